//! How choices are written in the file: words, so that a file explains itself. Words once written never change.

use sixrung_lesson::{Level, Tempo};
use sixrung_practice::{Done, Felt, Marked, Mode, Processing, Reason, Step, Verdict};

use crate::error::JournalError;

fn unknown(what: &str, word: &str) -> JournalError {
    JournalError::damaged(format!("no such {what}: {word}"))
}

pub(crate) const fn marked_word(marked: Marked) -> &'static str {
    match marked {
        Marked::Heard => "heard",
        Marked::ByPlayer => "player",
    }
}

pub(crate) fn marked(word: &str) -> Result<Marked, JournalError> {
    match word {
        "heard" => Ok(Marked::Heard),
        "player" => Ok(Marked::ByPlayer),
        _ => Err(unknown("mark", word)),
    }
}

pub(crate) const fn step_word(step: Step) -> &'static str {
    match step {
        Step::Shapes => "shapes",
        Step::Changes => "changes",
        Step::OneStroke => "one_stroke",
        Step::OneChord => "one_chord",
        Step::Slow => "slow",
        Step::Climb => "climb",
        Step::PlayAlong => "play_along",
        Step::Sing => "sing",
    }
}

pub(crate) fn step(word: &str) -> Result<Step, JournalError> {
    Step::ALL.into_iter().find(|step| step_word(*step) == word).ok_or_else(|| unknown("step", word))
}

pub(crate) const fn done_word(done: Done) -> &'static str {
    match done {
        Done::Heard => "heard",
        Done::SelfMarked => "player",
        Done::Skipped => "skipped",
    }
}

pub(crate) fn done(word: &str) -> Result<Done, JournalError> {
    match word {
        "heard" => Ok(Done::Heard),
        "player" => Ok(Done::SelfMarked),
        "skipped" => Ok(Done::Skipped),
        _ => Err(unknown("way a step was done", word)),
    }
}

pub(crate) const fn felt_word(felt: Felt) -> &'static str {
    match felt {
        Felt::Fine => "fine",
        Felt::Sore => "sore",
        Felt::Pain => "pain",
    }
}

pub(crate) fn felt(word: &str) -> Result<Felt, JournalError> {
    match word {
        "fine" => Ok(Felt::Fine),
        "sore" => Ok(Felt::Sore),
        "pain" => Ok(Felt::Pain),
        _ => Err(unknown("feeling", word)),
    }
}

pub(crate) const fn mode_word(mode: Mode) -> &'static str {
    match mode {
        Mode::Probing => "probing",
        Mode::Rechecking => "rechecking",
        Mode::Climbing => "climbing",
    }
}

pub(crate) fn mode(word: &str) -> Result<Mode, JournalError> {
    match word {
        "probing" => Ok(Mode::Probing),
        "rechecking" => Ok(Mode::Rechecking),
        "climbing" => Ok(Mode::Climbing),
        _ => Err(unknown("mode", word)),
    }
}

pub(crate) const fn level_word(level: Level) -> &'static str {
    match level {
        Level::Beginner => "beginner",
        Level::Improver => "improver",
        Level::Advanced => "advanced",
    }
}

pub(crate) fn level(word: &str) -> Result<Level, JournalError> {
    match word {
        "beginner" => Ok(Level::Beginner),
        "improver" => Ok(Level::Improver),
        "advanced" => Ok(Level::Advanced),
        _ => Err(unknown("level", word)),
    }
}

/// The verdict, and the reason where it was not judged.
pub(crate) const fn verdict_words(verdict: Verdict) -> (&'static str, Option<&'static str>) {
    match verdict {
        Verdict::Clean => ("clean", None),
        Verdict::NotClean => ("not_clean", None),
        Verdict::NotJudged(reason) => ("not_judged", Some(reason_word(reason))),
    }
}

pub(crate) fn verdict(word: &str, why: Option<&str>) -> Result<Verdict, JournalError> {
    match (word, why) {
        ("clean", None) => Ok(Verdict::Clean),
        ("not_clean", None) => Ok(Verdict::NotClean),
        ("not_judged", Some(why)) => reason(why).map(Verdict::NotJudged),
        _ => Err(unknown("verdict", word)),
    }
}

pub(crate) const fn reason_word(reason: Reason) -> &'static str {
    match reason {
        Reason::Silence => "silence",
        Reason::TooFaint => "too_faint",
        Reason::Clipped => "clipped",
        Reason::Gap => "gap",
        Reason::LearningRoundTrip => "learning_round_trip",
        Reason::RoundTripMoved => "round_trip_moved",
        Reason::OwnSound => "own_sound",
        Reason::StartUnclear => "start_unclear",
        Reason::Stopped => "stopped",
        Reason::TooShort => "too_short",
        Reason::BadSamples => "bad_samples",
        Reason::TooFast => "too_fast",
        Reason::NothingExpected => "nothing_expected",
        Reason::Unclear => "unclear",
        Reason::Processed(Processing::NoiseSuppression) => "noise_suppression",
        Reason::Processed(Processing::AutoGain) => "auto_gain",
        Reason::Processed(Processing::EchoCancelling) => "echo_cancelling",
        Reason::Processed(Processing::NarrowBand) => "narrow_band",
    }
}

pub(crate) fn reason(word: &str) -> Result<Reason, JournalError> {
    Ok(match word {
        "silence" => Reason::Silence,
        "too_faint" => Reason::TooFaint,
        "clipped" => Reason::Clipped,
        "gap" => Reason::Gap,
        "learning_round_trip" => Reason::LearningRoundTrip,
        "round_trip_moved" => Reason::RoundTripMoved,
        "own_sound" => Reason::OwnSound,
        "start_unclear" => Reason::StartUnclear,
        "stopped" => Reason::Stopped,
        "too_short" => Reason::TooShort,
        "bad_samples" => Reason::BadSamples,
        "too_fast" => Reason::TooFast,
        "nothing_expected" => Reason::NothingExpected,
        "unclear" => Reason::Unclear,
        "noise_suppression" => Reason::Processed(Processing::NoiseSuppression),
        "auto_gain" => Reason::Processed(Processing::AutoGain),
        "echo_cancelling" => Reason::Processed(Processing::EchoCancelling),
        "narrow_band" => Reason::Processed(Processing::NarrowBand),
        _ => return Err(unknown("reason", word)),
    })
}

pub(crate) fn tempo(milli_bpm: u32) -> Result<Tempo, JournalError> {
    Tempo::from_milli_bpm(milli_bpm)
        .ok_or_else(|| JournalError::damaged(format!("no such tempo: {milli_bpm} milli-bpm")))
}
