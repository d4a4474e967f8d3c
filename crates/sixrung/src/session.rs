//! A practice session as a state machine: what happened comes in, what is to be done comes out.
//!
//! It owns what is practised (the stage), how fast (the climb), and what is sounding (the run). It knows no device, no
//! file and no clock: a whole evening runs as a script in a test, faster than real time.

mod again;
mod care;
mod chords;
mod input;
mod lesson_changes;
mod moves;
mod on_stand;
mod passes;
mod path;
mod project;
mod run;
mod stage;
mod start_strokes;
mod today;
mod view;
mod way;

pub(crate) use chords::{nothing_known, sounding};
pub use input::{ClimbKey, Effect, FoundTrip, Heard, Input, Now, Order, PassDone, SoundState};
pub use lesson_changes::lesson_changes;
pub(crate) use project::bpm;
pub(crate) use project::bpm as bpm_text;
pub(crate) use project::chord as chord_view;
pub(crate) use stage::ONE_CHORD_BARS;
pub use stage::{Opened, Stage};
pub use today::{PlayedToday, Standing, today_request};

use std::sync::Arc;

use sixrung_audio::Strings;
use sixrung_lesson::{Level, Tempo};
use sixrung_listen::{LearnProgress, Learned, PassVerdict, Sounding, Verdict};
use sixrung_practice::{Care, Climb, Input as ClimbInput, Marked, Moment, Move, StepsDone, UtcOffset};

use crate::commands::keymap::KeyMap;
use crate::commands::pedalmap::PedalMap;
use crate::stand::{ClickChoice, HearingView, Note, Part, Pause, Proposal, ResultView, Volumes};
use crate::theme::Look;
use run::Run;

/// At most so many notes stay on the sheet: older ones go.
const MOST_NOTES: usize = 3;

/// What the player has set, and the journal keeps.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    /// How things are drawn.
    pub look: Look,
    /// Keys the player has set.
    pub keys: KeyMap,
    /// MIDI switches the player has set.
    pub pedals: PedalMap,
    /// How loud things are.
    pub volumes: Volumes,
    /// How the click sounds and goes.
    pub click: ClickChoice,
    /// What the guitar that plays the part is strung with.
    pub strings: Strings,
    /// Whether the part is played first only on request, where no assignment says otherwise.
    pub heard_on_request: bool,
    /// The timing window, where the player wants another than the lesson's.
    pub level: Option<Level>,
    /// Whether four muted strokes start.
    pub strokes_start: bool,
    /// Whether the player was told that chords can be learned.
    pub offered_chords: bool,
}

/// What the session is about.
#[derive(Clone, Debug, PartialEq)]
enum Doing {
    /// Nothing has been played since the stage was set.
    Idle,
    /// A run sounds.
    Playing,
    /// A pass is over and the player has to say whether it was clean.
    Marking { tempo: Tempo, seconds: f64 },
    /// Practice stands still.
    Paused(Pause),
}

/// The last pass, for the sheet.
#[derive(Clone, Debug)]
struct Last {
    result: ResultView,
    verdict: PassVerdict,
    proposal: Option<Proposal>,
    /// Its sound, to be heard again.
    kept: Option<again::Kept>,
}

/// One player at one guitar.
#[derive(Debug)]
pub struct Session {
    zone: UtcOffset,
    settings: Settings,
    sound: SoundState,
    stage: Option<Stage>,
    climb: Option<Climb>,
    steps: StepsDone,
    /// The last passes of what is on the stand, to see what holds it back.
    recent: Vec<PassVerdict>,
    /// Changes whose drill was offered since the start: once each.
    offered_drills: Vec<(String, String)>,
    doing: Doing,
    run: Option<Run>,
    /// Compiled and handed over, to follow the running one at its cycle's end.
    next: Option<Run>,
    /// Passes being listened to: order, tempo, length in seconds.
    waiting: Vec<(u64, sixrung_lesson::Tempo, f64)>,
    /// The last order placed by a round trip that was set right since.
    placed_wrong: u64,
    last: Option<Last>,
    hearing: HearingView,
    tuned: Sounding,
    learning: Option<LearnProgress>,
    /// What the ear knows of the player's chords.
    known: Arc<Learned>,
    /// Passes judged since the program was started.
    judged: u32,
    again: again::Again,
    care: Care,
    today: today::Today,
    /// The rung today's item asks for.
    item_rung: Option<Tempo>,
    seconds_before: u32,
    /// Nobody played here yet.
    is_new: bool,
    /// The few bars of a newcomer are on the stand.
    few_bars: bool,
    /// The stretch on the stand begins as soon as its climb is found.
    starts_when_found: bool,
    /// After a few bars were climbed, all of them were offered.
    offered_all_bars: bool,
    notes: Vec<Note>,
    ids: u64,
}

impl Session {
    /// A session with nothing on the stand. `zone` tells where a day ends; `seconds_today` were played before.
    #[must_use]
    pub fn new(settings: Settings, zone: UtcOffset, seconds_today: u32) -> Self {
        Self {
            zone,
            settings,
            sound: SoundState::default(),
            stage: None,
            climb: None,
            steps: StepsDone::default(),
            recent: Vec::new(),
            offered_drills: Vec::new(),
            doing: Doing::Idle,
            run: None,
            next: None,
            waiting: Vec::new(),
            placed_wrong: 0,
            last: None,
            hearing: HearingView::default(),
            tuned: Sounding::Nothing,
            learning: None,
            known: Arc::new(chords::nothing_known()),
            judged: 0,
            again: again::Again::default(),
            care: Care::default(),
            today: today::Today::default(),
            item_rung: None,
            seconds_before: seconds_today,
            is_new: false,
            few_bars: false,
            starts_when_found: false,
            offered_all_bars: false,
            notes: Vec::new(),
            ids: 0,
        }
    }

    /// Takes in what happened and says what is to be done, in order.
    pub fn update(&mut self, input: Input, now: Now) -> Vec<Effect> {
        let mut effects = Vec::new();
        match input {
            Input::Intent(intent) => self.wish(intent, now, &mut effects),
            Input::Opened(opened) => self.open(&opened, &mut effects),
            Input::ClimbFound(key, state) => self.climb_found(&key, state, now, &mut effects),
            Input::StepsFound(key, steps) => self.steps_found(&key, steps),
            Input::Welcome => self.welcome(&mut effects),
            Input::Report(report) => self.report(&report, &mut effects),
            Input::Heard(Heard::Level(hearing)) => self.hearing = hearing,
            Input::Heard(Heard::Tuned(sounding)) => self.tuned = sounding,
            Input::Heard(Heard::Learning(progress)) => self.learning = Some(progress),
            Input::Heard(Heard::Learned(learned)) => effects.push(Effect::KeepLearned(learned)),
            Input::Knows(known) => self.known = known,
            Input::Heard(Heard::Pass { order, verdict, round_trip, own_way_ms, recording }) => {
                let verdict = self.with_its_way(order, *verdict, (round_trip, own_way_ms), &mut effects);
                self.judged(order, verdict, recording, now, &mut effects);
            }
            Input::Heard(Heard::FourStrokes) => self.four_strokes(now, &mut effects),
            Input::Heard(Heard::Measured(_) | Heard::Change(_)) => {}
            Input::Sound(sound) => self.sound_changed(sound, &mut effects),
            Input::Planned(plan) => self.planned(plan),
            Input::Drilled { seconds } => self.drilled(seconds, now, &mut effects),
            Input::Hurt(flag) => self.care = Care::resume(Some(flag)),
            Input::PartReady => self.renew(&mut effects),
            Input::Note(note) => self.note(note),
        }
        effects
    }

    /// Where a day ends.
    #[must_use]
    pub const fn zone(&self) -> UtcOffset {
        self.zone
    }

    /// What is on the stand.
    #[must_use]
    pub fn stage(&self) -> Option<&Stage> {
        self.stage.as_ref()
    }

    /// Where the player stands on the ladder.
    #[must_use]
    pub fn climb(&self) -> Option<&Climb> {
        self.climb.as_ref()
    }

    /// What the player has set.
    #[must_use]
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// What the sound is like.
    #[must_use]
    pub fn sound(&self) -> SoundState {
        self.sound
    }

    /// What the microphone gives.
    #[must_use]
    pub fn hearing(&self) -> HearingView {
        self.hearing
    }

    /// What the tuner heard last.
    #[must_use]
    pub fn tuned(&self) -> Sounding {
        self.tuned
    }

    /// What the ear knows of the player's chords on this guitar.
    #[must_use]
    pub fn known(&self) -> &Learned {
        &self.known
    }

    /// How far the player's chords are heard; `None` before the ear has said anything.
    #[must_use]
    pub fn learning(&self) -> Option<LearnProgress> {
        self.learning
    }

    /// The last pass, as long as its result is on the sheet.
    #[must_use]
    pub fn last_verdict(&self) -> Option<&PassVerdict> {
        self.last.as_ref().map(|last| &last.verdict)
    }

    /// Whether something sounds, and the picture moves.
    #[must_use]
    pub fn is_playing(&self) -> bool {
        self.doing == Doing::Playing || self.hears_again()
    }

    /// The tempo practice is now at, while it plays.
    pub(crate) fn tempo_playing(&self) -> Option<sixrung_lesson::Tempo> {
        let run = self.next.as_ref().or(self.run.as_ref()).filter(|_| self.doing == Doing::Playing)?;
        Some(run.tempo)
    }

    fn note(&mut self, note: Note) {
        self.notes.retain(|old| *old != note);
        self.notes.push(note);
        let surplus = self.notes.len().saturating_sub(MOST_NOTES);
        self.notes.drain(..surplus);
    }

    fn new_climb(&self, stage: &Stage) -> Climb {
        let ladder = stage.ladder();
        let original = ladder.last();
        let mut climb = Climb::new(ladder, stage.policy(), self.zone);
        // What is played at the original tempo begins there; slower is a wish.
        if stage.step.is_whole() {
            climb.update(ClimbInput::Move(Move::To(original)), Moment::default());
        }
        climb
    }

    /// How loud every part is heard.
    fn gains(&self) -> impl Iterator<Item = Effect> {
        let volumes = self.settings.volumes;
        Part::MIXED.into_iter().chain([Part::Master]).map(move |part| Effect::Gain(part, volumes.heard_db(part)))
    }

    fn sound_changed(&mut self, sound: SoundState, effects: &mut Vec<Effect>) {
        let was = std::mem::replace(&mut self.sound, sound);
        if was.round_trip_ms == sound.round_trip_ms {
            self.sound.own_way_ms = sound.own_way_ms.or(was.own_way_ms);
        }
        let lost = if was.output && !sound.output {
            Some(Pause::OutputLost)
        } else if was.input && !sound.input {
            Some(Pause::InputLost)
        } else {
            None
        };
        if lost.is_some() || was.rate != sound.rate {
            self.end_again();
        }
        if self.doing == Doing::Playing
            && let Some(why) = lost.or((was.rate != sound.rate).then_some(Pause::OutputLost))
        {
            self.halt(Doing::Paused(why), effects);
        }
        effects.extend(self.gains());
    }
}

/// The name of a shape of the stage's score, as printed.
pub(crate) fn chord_of(stage: &Stage, shape: Option<usize>) -> String {
    project::chord(stage, shape).name
}

/// A pass nobody listened to, as the player marked it.
fn marked_verdict(verdict: Verdict) -> PassVerdict {
    PassVerdict {
        verdict,
        strokes: Vec::new(),
        extras_s: Vec::new(),
        median_offset_ms: None,
        spread_ms: None,
        allowed_faults: 0,
        tuning_cents: None,
    }
}

/// Who marked a pass that a session of this sound plays.
fn marker(sound: SoundState) -> Marked {
    if sound.input { Marked::Heard } else { Marked::ByPlayer }
}
