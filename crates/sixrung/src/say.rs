//! Sentences built from what was found: plain, short, to a person with a guitar.

use std::collections::BTreeMap;

pub use sixrung_drawing::{NO_CHORD, chord_name};
use sixrung_journal::Measured as How;
use sixrung_listen::{
    ChordFinding, Finding, Measurement, NotMeasured, PassVerdict, Processing, Reason, StringFault, StrokeFinding,
    Verdict,
};
use sixrung_practice::{Advice, BreakDue, ChangeTrouble, Effect, RestReason, Trouble};

use crate::measuring::Measure;
use crate::session::{Stage, bpm, chord_of};

/// After a pass the player marked.
pub(crate) const SELF_MARKED: &str = "Marked by you: kept apart from what I heard.";

/// From here on a guitar that is off as a whole is worth tuning before going on, in cents: the judge makes up for
/// ±30, the ear hears 5 to 10 (common practice). A design choice of ours.
const TUNE_FIRST_CENTS: f64 = 20.0;

/// When the chords sounded off as a whole: what to say, and what to try.
pub(crate) fn tune_first(pass: &PassVerdict) -> Option<(String, String)> {
    let cents = pass.tuning_cents.filter(|cents| cents.abs() >= TUNE_FIRST_CENTS)?;
    let way = if cents < 0.0 { "flat" } else { "sharp" };
    // To the nearest five: chords tell no more.
    let about = (cents.abs() / 5.0).round() * 5.0;
    Some((format!("Your guitar sounds about {about:.0} cents {way}."), "tune first: U opens the tuner".to_owned()))
}

/// Why a pass was not judged, as a short phrase.
#[must_use]
pub fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::Silence => "nothing was heard",
        Reason::TooFaint => "the guitar was too faint beside the noise",
        Reason::Clipped => "the microphone was overdriven",
        Reason::Gap => "part of the sound was lost on its way",
        Reason::LearningRoundTrip => "getting to know your sound",
        Reason::RoundTripMoved => "the sound took longer or shorter than before",
        Reason::OwnSound => "the program's own sound was too loud in the microphone",
        Reason::StartUnclear => "where the pass starts could not be told",
        Reason::Stopped => "the pass was stopped before its end",
        Reason::TooShort => "the recording ends before the pass does",
        Reason::BadSamples => "the recording holds numbers that are no sound",
        Reason::TooFast => "the strokes lie too close together to tell apart",
        Reason::NothingExpected => "there is nothing to judge in this stretch",
        Reason::Unclear => "not every stroke could be heard well enough",
        Reason::Processed(Processing::NoiseSuppression) => "noise suppression cut the ringing strings off",
        Reason::Processed(Processing::AutoGain) => "automatic gain made soft and loud alike",
        Reason::Processed(Processing::EchoCancelling) => "echo cancelling turned the microphone down",
        Reason::Processed(Processing::NarrowBand) => "only a telephone's sound came through",
    }
}

/// The same as a sentence on the sheet.
pub(crate) fn reason_sentence(why: Reason) -> &'static str {
    match why {
        Reason::Silence => "I could not hear you.",
        Reason::TooFaint => "I could not hear you well enough to say.",
        Reason::Clipped => "The microphone was too loud to judge by.",
        Reason::Gap => "Part of the sound was lost on its way to me.",
        Reason::LearningRoundTrip => "I was getting to know your sound.",
        Reason::RoundTripMoved => "Your sound took another time to reach me than before.",
        Reason::OwnSound => "I heard myself as loudly as you.",
        Reason::StartUnclear => "I could not tell where you began.",
        Reason::Stopped => "You stopped before the end, and that is fine.",
        Reason::TooShort => "The pass ended too soon to say.",
        Reason::BadSamples => "What came from the microphone was no sound.",
        Reason::TooFast => "The strokes lie too close together for me.",
        Reason::NothingExpected => "There is nothing to judge in these bars.",
        Reason::Unclear => "I could not hear every stroke well enough to say.",
        Reason::Processed(Processing::NoiseSuppression) => "Something cuts your strings off while they ring.",
        Reason::Processed(Processing::AutoGain) => "Something makes soft and loud alike on the way to me.",
        Reason::Processed(Processing::EchoCancelling) => "Something turns you down while I play.",
        Reason::Processed(Processing::NarrowBand) => "I hear you as through a telephone.",
    }
}

/// What to try about it.
pub(crate) fn cure_sentence(why: Reason) -> &'static str {
    match why {
        Reason::Silence => "Is the microphone the right one, and not muted?",
        Reason::TooFaint => "Move closer to the microphone, or turn its level up.",
        Reason::Clipped => "Turn the microphone's level down, or move away from it.",
        Reason::Gap => {
            "The computer was too busy for it: close other programs, or choose a larger buffer on the sound page."
        }
        Reason::LearningRoundTrip => "From the next pass on I can judge.",
        Reason::RoundTripMoved => "I have set it right. From the next pass on I can judge.",
        Reason::OwnSound => "Wear headphones, or turn the guitar down.",
        Reason::Stopped => "It does not count.",
        Reason::TooFast => "Try a slower rung.",
        Reason::Unclear => "Move the microphone nearer the guitar, or sing more softly.",
        Reason::Processed(processing) => processing_cure(processing),
        Reason::StartUnclear | Reason::TooShort | Reason::BadSamples | Reason::NothingExpected => "It does not count.",
    }
}

/// How to be rid of what a system does to the sound.
pub(crate) const fn processing_cure(processing: Processing) -> &'static str {
    match processing {
        Processing::NoiseSuppression => {
            "Turn off noise suppression for this microphone in the system's sound settings."
        }
        Processing::AutoGain => {
            "Turn off automatic gain (also called level or boost) for this microphone in the system's sound settings."
        }
        Processing::EchoCancelling => {
            "Turn off echo cancelling for this microphone in the system's sound settings, and wear headphones."
        }
        Processing::NarrowBand => "Use the computer's own microphone instead of the headset's.",
    }
}

/// What the player does before something is measured, on the command line.
pub(crate) const fn before(measure: Measure) -> &'static str {
    match measure {
        Measure::Loopback => "be quiet for fifteen seconds: ten chirps are played and listened to",
        Measure::TapAlong => "in five seconds: tap on the guitar's body with each of twenty clicks",
        Measure::Strums => "stay quiet for seven seconds, then strum a chord four times and let the last one ring",
    }
}

/// A round trip that was measured.
pub(crate) fn measured(how: How, found: &Measurement) -> String {
    let (what, more) = match how {
        How::TapAlong => ("taps", ", your own anticipation in it"),
        _ => ("chirps", ""),
    };
    let Measurement { ms, spread_ms, agreed, asked } = found;
    format!("round trip {ms:.1} ms, give or take {spread_ms:.1}: {agreed} of {asked} {what} agree{more}")
}

/// Why a round trip was not measured.
pub(crate) fn not_measured(measure: Measure, why: NotMeasured) -> String {
    let what = if measure == Measure::TapAlong { "taps" } else { "chirps" };
    match why {
        NotMeasured::NotHeard { heard, asked } => format!("{heard} of {asked} {what} were heard"),
        NotMeasured::Wandering { spread_ms } => format!("the {what} lie {spread_ms:.0} ms apart: no one round trip"),
        NotMeasured::Gap => "part of the sound was lost on its way".to_owned(),
        NotMeasured::Clipped => "the microphone was overdriven".to_owned(),
        NotMeasured::TooShort => "the sound ended too soon".to_owned(),
    }
}

/// What to try about it.
pub(crate) const fn measure_hint(measure: Measure, why: NotMeasured) -> &'static str {
    match (measure, why) {
        (Measure::TapAlong, NotMeasured::NotHeard { .. }) => "tap nearer to the microphone, once with each click",
        (Measure::TapAlong, NotMeasured::Wandering { .. }) => "listen to a few clicks first, then tap with them",
        (_, NotMeasured::NotHeard { .. }) => {
            "turn the speakers up, or turn echo cancelling off; with headphones tap along instead"
        }
        (_, NotMeasured::Wandering { .. }) => "use devices with a cable instead of wireless ones",
        (_, NotMeasured::Gap) => "close other programs, or choose a larger buffer on the sound page",
        (_, NotMeasured::Clipped) => "turn the speakers down, or the microphone's level",
        (_, NotMeasured::TooShort) => "try again",
    }
}

/// The first words after a pass.
pub(crate) fn headline(verdict: Verdict) -> String {
    match verdict {
        Verdict::Clean => "Clean.",
        Verdict::NotClean => "Not clean yet.",
        Verdict::NotJudged(_) => "Not judged.",
    }
    .to_owned()
}

/// How many strokes were in time, and how many were not asked for.
pub(crate) fn in_time(verdict: &PassVerdict) -> Option<String> {
    let expected = verdict.strokes.len();
    let in_time = verdict.count(Finding::InTime);
    let extra = match verdict.extras_s.len() {
        0 => String::new(),
        1 => " One stroke more than asked.".to_owned(),
        more => format!(" {more} strokes more than asked."),
    };
    (expected > 0).then(|| format!("{in_time} of {expected} strokes in time.{extra}"))
}

/// Whether the player is early or late on the whole.
pub(crate) fn bias(verdict: &PassVerdict) -> Option<String> {
    let median = verdict.median_offset_ms?;
    let spread = verdict.spread_ms?;
    let way = if median < 0.0 { "early" } else { "late" };
    Some(if median.abs() < 5.0 {
        format!("On the whole you play on the beat, give or take {spread:.0} ms.")
    } else {
        format!("You play {:.0} ms {way} on the whole, give or take {spread:.0} ms.", median.abs())
    })
}

/// The one thing to work on.
pub(crate) fn advice(advice: &Advice, stage: &Stage) -> Option<String> {
    match advice {
        Advice::NotHeard(_) | Advice::GoOn => None,
        Advice::Change(ChangeTrouble { from, into, trouble, .. }) => {
            let into = chord_of(stage, Some(*into));
            let change = match from {
                Some(from) => format!("The change from {} to {into}", chord_of(stage, Some(*from))),
                None => format!("The change to {into}"),
            };
            Some(match trouble {
                Trouble::Late => format!("{change} comes late."),
                Trouble::Early => format!("{change} comes early."),
                Trouble::Missed => format!("{change} loses strokes."),
                Trouble::WrongChord => format!("{change} does not sound right yet."),
            })
        }
        Advice::Bar { bar, trouble, .. } => {
            let number = stage.score.bars.get(*bar).map_or(0, |bar| bar.number + 1);
            Some(match trouble {
                Trouble::Late => format!("Bar {number} drags."),
                Trouble::Early => format!("Bar {number} runs ahead."),
                Trouble::Missed => format!("Bar {number} loses strokes."),
                Trouble::WrongChord => format!("The chord in bar {number} is another one."),
            })
        }
        Advice::Overall { trouble, .. } => Some(
            match trouble {
                Trouble::Late => "Late strokes are spread over the whole pass.",
                Trouble::Early => "Early strokes are spread over the whole pass.",
                Trouble::Missed => "Missed strokes are spread over the whole pass.",
                Trouble::WrongChord => "Some chords are not the ones asked for.",
            }
            .to_owned(),
        ),
        Advice::Extras { .. } => Some("Let the hand pass the strings in silence where a dash is drawn.".to_owned()),
    }
}

/// The chord a span sounded like, or that it was another one.
pub(crate) fn sounded_like(stroke: &StrokeFinding) -> String {
    stroke.sounded_like.as_deref().map_or_else(|| "another chord".to_owned(), chord_name)
}

/// The first chord that was not the one asked for.
pub(crate) fn wrong_chord(verdict: &PassVerdict, stage: &Stage) -> Option<String> {
    let wrong = verdict.strokes.iter().find(|stroke| stroke.chord == ChordFinding::Wrong)?;
    let number = stage.score.bars.get(wrong.bar)?.number + 1;
    let asked = chord_of(stage, wrong.shape);
    Some(match &wrong.sounded_like {
        Some(heard) => format!("In bar {number} I heard {}, not {asked}.", chord_name(heard)),
        None => format!("In bar {number} I did not hear {asked}."),
    })
}

/// The string trouble that was heard most, if it was heard more than once: a hint, never a fault.
pub(crate) fn string(verdict: &PassVerdict, stage: &Stage) -> Option<String> {
    let mut counts = BTreeMap::<(usize, u8, StringFault), usize>::new();
    for stroke in &verdict.strokes {
        for (found, shape) in stroke.strings.iter().zip(stroke.shape.iter().cycle()) {
            *counts.entry((*shape, found.string, found.fault)).or_default() += 1;
        }
    }
    let ((shape, string, fault), times) = counts.into_iter().max_by_key(|(_, times)| *times)?;
    let chord = chord_of(stage, Some(shape));
    (times > 1).then(|| match fault {
        StringFault::Dead => {
            format!("String {string} does not ring on {chord}: press close to the fret, let the finger arch.")
        }
        StringFault::WrongFret => format!("String {string} sounds another note on {chord}: look where that finger is."),
        StringFault::ShouldBeMuted => format!("String {string} rings on {chord} and should stay silent."),
    })
}

/// Strokes that went the other way, if there were more than one of them: a hint, never a fault.
pub(crate) fn other_way(verdict: &PassVerdict, stage: &Stage) -> Option<String> {
    let is_other = |stroke: &&StrokeFinding| stroke.heard_direction.is_some_and(|heard| heard != stroke.direction);
    let others: Vec<_> = verdict.strokes.iter().filter(is_other).collect();
    let number = stage.score.bars.get(others.first()?.bar)?.number + 1;
    (others.len() > 1).then(|| format!("{} strokes went the other way, the first in bar {number}.", others.len()))
}

/// What the pass led to.
pub(crate) fn effects(effects: &[Effect]) -> Option<String> {
    let said = effects.iter().filter_map(|effect| match effect {
        Effect::Climbed { to, .. } => Some(format!("Up to {}.", bpm(*to))),
        Effect::Fell { to, .. } => Some(format!("Down to {}, where it was steady.", bpm(*to))),
        Effect::Arrived => Some("This section stands at the top of its ladder.".to_owned()),
        Effect::Held { rung, .. } => Some(format!("{} is held: clean at first try.", bpm(*rung))),
        _ => None,
    });
    Some(said.collect::<Vec<_>>().join(" ")).filter(|said| !said.is_empty())
}

/// Under the ladder: what climbs.
pub(crate) fn to_climb(passes: u32, above: Option<String>) -> String {
    match (passes, above) {
        (0, _) | (_, None) => "the top of the ladder".to_owned(),
        (1, Some(above)) => format!("one more clean pass to {above}"),
        (2, Some(above)) => format!("two more clean passes to {above}"),
        (more, Some(above)) => format!("{more} clean passes to {above}"),
    }
}

/// Why a section should rest for now.
pub(crate) fn rest(reason: RestReason) -> String {
    match reason {
        RestReason::Passes(passes) => format!("{passes} passes are enough of this section for now."),
        RestReason::Falls(_) | RestReason::LittleSuccess { .. } => "Leave this section for now; it keeps.".to_owned(),
        RestReason::Enough { .. } => "That is enough at the top of the ladder for today.".to_owned(),
    }
}

/// A break that is due: 5 minutes in 25, and firmly after 50, a design choice of ours.
pub(crate) fn break_due(due: BreakDue) -> (String, String) {
    let (BreakDue::Suggested { played_min } | BreakDue::Firm { played_min }) = due;
    let hint = match due {
        BreakDue::Suggested { .. } => "a good moment to put the guitar down for five minutes",
        BreakDue::Firm { .. } => "stop here for a while; your hands need it more than the song does",
    };
    (format!("{played_min} minutes of playing"), hint.to_owned())
}

#[cfg(test)]
mod tests {
    use super::chord_name;

    #[test]
    fn signs_of_root_and_bass_are_set() {
        for (written, shown) in [("Bb", "B♭"), ("F#m7", "F♯m7"), ("D/F#", "D/F♯"), ("Bm7b5", "Bm7b5"), ("G", "G")]
        {
            assert_eq!(chord_name(written), shown);
        }
    }
}
