//! The whole loop on simulated devices and clock, through the real session, ear, journal and window: passes are
//! played, judged, climbed and kept.
//!
//! The player of this test is the lesson's own guitar, led from the speakers back into the microphone with the click
//! turned off: an echo plays perfectly in time. That shows the plumbing, not the ear; the ear is held by the takes made
//! outside our synthesiser.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use egui_kittest::Harness;
use sixrung::app::App;
use sixrung::stand::{HearingState, Intent, Part, Phase, ResultView, StandView, Volumes};
use sixrung::studio::Studio;
use sixrung_devices::{SimulatedConfig, Simulation, Sound, Which};
use sixrung_journal::Journal;
use sixrung_practice::{Marked, Moment, UtcOffset, Verdict};

const RATE: u64 = 48_000;
/// A step of the simulated evening: a tenth of a second.
const STEP: u64 = RATE / 10;
const ZONE: UtcOffset = UtcOffset(0);
/// A Tuesday evening.
const BEGIN: Moment = Moment(1_795_543_200);

/// What the window holds: the app is made on its first frame, when there is a context to make it with.
struct Window {
    studio: Option<Studio>,
    app: Option<App>,
    now: Moment,
}

impl Window {
    fn frame(&mut self, ui: &mut egui::Ui) {
        if let Some(studio) = self.studio.take() {
            self.app = Some(App::new(ui.ctx(), studio, Some("lantern-on-the-quay")));
        }
        let app = self.app.as_mut().expect("the first frame made it");
        app.frame(ui, self.now);
    }
}

/// One evening: the window, and the sound and the clock that the test moves.
struct Evening {
    harness: Harness<'static, Window>,
    simulation: Simulation,
    plays: Arc<AtomicBool>,
    tenths: i64,
}

impl Evening {
    fn begin(folder: &Path) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let plays = Arc::new(AtomicBool::new(true));
        let hand = Arc::clone(&plays);
        simulation.enter(move |first: u64, speakers: &[f32], microphone: &mut [f32]| {
            // Who does not play leaves out every other second: about half of the strokes.
            for (frame, (heard, pair)) in (first..).zip(microphone.iter_mut().zip(speakers.chunks(2))) {
                let rests = !hand.load(Ordering::Relaxed) && (frame / RATE).is_multiple_of(2);
                *heard = if rests { 0.0 } else { 0.5 * (pair[0] + pair[1]) };
            }
        });
        let studio = Studio::simulated(sound, Some(folder), BEGIN, ZONE);
        let window = Window { studio: Some(studio), app: None, now: BEGIN };
        let harness =
            Harness::builder().with_size([1280.0, 800.0]).build_ui_state(|ui, window| window.frame(ui), window);
        let mut evening = Self { harness, simulation, plays, tenths: 0 };
        evening.run_tenths(5);
        evening.wish(Intent::SetVolume(Part::Click, Volumes::SILENT_DB));
        evening
    }

    fn run_tenths(&mut self, tenths: u32) {
        for _ in 0..tenths {
            self.simulation.advance(STEP);
            self.tenths += 1;
            self.harness.state_mut().now = Moment(BEGIN.0 + self.tenths / 10);
            self.harness.step();
        }
    }

    fn studio(&self) -> &Studio {
        self.harness.state().app.as_ref().expect("the first frame made it").studio()
    }

    fn view(&self) -> StandView {
        self.studio().view(self.harness.state().now)
    }

    fn wish(&mut self, intent: Intent) {
        let now = self.harness.state().now;
        self.harness.state_mut().app.as_mut().expect("the first frame made it").wish(intent, now);
        self.harness.step();
    }

    fn rung(&self) -> String {
        let ladder = self.view().ladder;
        ladder.rungs[ladder.current].bpm.clone()
    }

    /// Runs until the next result lies on the sheet, and gives it.
    fn next_result(&mut self) -> ResultView {
        for _ in 0..1200 {
            self.run_tenths(1);
            if let Some(result) = self.view().result {
                // On to the next count-in, where the result leaves the sheet.
                while self.view().result.is_some() && self.studio().session().is_playing() {
                    self.run_tenths(1);
                }
                return result;
            }
        }
        panic!("no result within two minutes; the phase is {:?}", self.view().phase);
    }
}

#[test]
fn an_evening_climbs_falls_and_is_kept() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    assert_eq!(evening.view().place.title, "Lantern on the Quay");
    assert_eq!(evening.rung(), "76");

    evening.harness.key_press(egui::Key::Space);
    assert_eq!(
        evening.next_result().headline,
        "Not judged.",
        "a new pair of devices: the first pass finds the round trip"
    );
    for pass in 1..=3 {
        assert_eq!(evening.next_result().headline, "Clean.", "clean pass {pass}");
    }
    assert_eq!(evening.rung(), "84", "three clean passes climb");

    evening.plays.store(false, Ordering::Relaxed);
    for pass in 1..=2 {
        assert_eq!(evening.next_result().headline, "Not clean yet.", "pass {pass} with half of it left out");
    }
    assert_eq!(evening.rung(), "76", "two passes that were not clean fall");

    // A device lost in the middle of a pass: practice pauses, nothing of it is kept, nothing before it is lost.
    evening.run_tenths(80);
    assert_eq!(evening.view().phase, Phase::Playing);
    evening.simulation.pull_out(Which::Input);
    evening.run_tenths(3);
    assert!(matches!(evening.view().phase, Phase::Paused(_)), "{:?}", evening.view().phase);
    drop(evening);

    let journal = Journal::open(&folder.path().join("journal.sqlite"), BEGIN.day(ZONE)).expect("the journal").journal;
    let mut kept: Vec<_> =
        journal.recent_passes(None, 100).expect("the passes").into_iter().map(|(_, pass)| pass).collect();
    kept.sort_by_key(|pass| pass.ended);
    let verdicts: Vec<_> = kept.iter().map(|pass| pass.verdict).collect();
    assert_eq!(verdicts.len(), 6);
    assert!(matches!(verdicts[0], Verdict::NotJudged(_)));
    assert_eq!(verdicts[1..4], [Verdict::Clean; 3]);
    assert_eq!(verdicts[4..], [Verdict::NotClean; 2]);

    let next = Evening::begin(folder.path());
    assert_eq!(next.rung(), "76", "the next start goes on from there");
}

#[test]
fn without_a_microphone_the_player_marks_the_pass_and_the_journal_says_so() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.simulation.pull_out(Which::Input);
    evening.run_tenths(2);
    assert_eq!(evening.view().hearing.state, HearingState::NoMicrophone);

    evening.harness.key_press(egui::Key::PageDown);
    for _ in 0..600 {
        evening.run_tenths(1);
        if evening.view().phase == Phase::SelfMark {
            break;
        }
    }
    assert_eq!(evening.view().phase, Phase::SelfMark, "the pass is over and waits for its mark");
    evening.harness.key_press(egui::Key::M);
    evening.run_tenths(1);
    assert_eq!(evening.view().ladder.pegs_filled, 1, "a marked pass counts");
    drop(evening);

    let journal = Journal::open(&folder.path().join("journal.sqlite"), BEGIN.day(ZONE)).expect("the journal").journal;
    let kept = journal.recent_passes(None, 10).expect("the passes");
    let marks: Vec<_> = kept.iter().map(|(_, pass)| (pass.verdict, pass.marked)).collect();
    assert_eq!(marks, [(Verdict::Clean, Marked::ByPlayer)]);
}

#[test]
fn speakers_as_loud_as_the_player_are_told_and_never_clean() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::SetVolume(Part::Click, 0.0));
    // The whole of our own sound, click and guitar, reaches the microphone; nobody plays.
    evening.harness.key_press(egui::Key::Space);
    assert_eq!(evening.next_result().detail, "I was getting to know your sound.");
    for _ in 0..2 {
        assert_eq!(evening.next_result().detail, "I heard myself as loudly as you.");
    }
    assert_eq!(evening.view().ladder.pegs_filled, 0);
}

#[test]
fn a_pass_whose_sound_stood_still_is_not_judged() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(egui::Key::Space);
    assert_eq!(evening.next_result().headline, "Not judged.", "the first pass finds the round trip");
    evening.run_tenths(80);
    evening.simulation.hold_output_blocks(20);
    assert_eq!(evening.next_result().detail, "Part of the sound was lost on its way to me.");
    assert_eq!(evening.view().ladder.pegs_filled, 0);
}
