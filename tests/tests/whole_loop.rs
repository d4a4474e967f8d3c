//! The whole loop on simulated devices and clock, through the real session, ear, journal and window: passes are
//! played, judged, climbed and kept.
//!
//! The player of this test plays what the speakers play, in time, on strings of his own: they start up or down as chance
//! has it, stroke by stroke, so that what he plays is no echo. That shows the plumbing, not the ear; the ear is held by
//! the takes made outside our synthesiser. Beside him our own sound may reach the microphone as an echo does.

use std::collections::VecDeque;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, AtomicUsize, Ordering};

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

/// How the player plays, moved by the test.
#[derive(Default)]
struct Hand {
    /// Whether every stroke is played; else about half are left out.
    plays_all: AtomicBool,
    /// Whether anything is played.
    silent: AtomicBool,
    /// How loud our own sound is in the microphone: bits of a factor.
    own: AtomicU32,
    /// How much later than it should all sound arrives, in frames.
    late: AtomicUsize,
}

/// Turns what the speakers play into somebody else's playing of it.
struct Player {
    hand: Arc<Hand>,
    level: [f32; 2],
    since: u64,
    turned: f32,
    dice: u32,
    noise: u32,
    /// What sounds in the room and is still on its way.
    coming: VecDeque<f32>,
}

impl Player {
    /// A stroke is where the last 2 ms are far louder than the last 60.
    fn play(&mut self, sample: f32) -> f32 {
        for (level, seconds) in self.level.iter_mut().zip([0.002, 0.060]) {
            *level += (sample * sample - *level) / (48_000.0 * seconds);
        }
        self.since += 1;
        if self.level[0] > 3.0 * self.level[1] && self.since > RATE / 10 {
            self.since = 0;
            self.dice = self.dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            self.turned = if self.dice >> 31 == 0 { 1.0 } else { -1.0 };
        }
        self.turned * sample
    }

    fn hear(&mut self, first: u64, speakers: &[f32], microphone: &mut [f32]) {
        let own = f32::from_bits(self.hand.own.load(Ordering::Relaxed));
        for (frame, (heard, pair)) in (first..).zip(microphone.iter_mut().zip(speakers.chunks(2))) {
            let sounds = 0.5 * (pair[0] + pair[1]);
            let played = self.play(sounds);
            // Who does not play all leaves out every other second: about half of the strokes.
            let leaves_out = !self.hand.plays_all.load(Ordering::Relaxed) && (frame / RATE).is_multiple_of(2);
            let rests = leaves_out || self.hand.silent.load(Ordering::Relaxed);
            self.coming.push_back(own * sounds + if rests { 0.0 } else { played });
            while self.coming.len() > self.hand.late.load(Ordering::Relaxed) + 1 {
                self.coming.pop_front();
            }
            let arrives = if self.coming.len() > self.hand.late.load(Ordering::Relaxed) { self.coming[0] } else { 0.0 };
            *heard = arrives + self.hiss();
        }
    }

    /// No room is silent: −85 dB of noise, by the generator of Numerical Recipes.
    fn hiss(&mut self) -> f32 {
        self.noise = self.noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        1e-4 * (f32::from(u16::try_from(self.noise >> 16).expect("16 bits")) / 32_768.0 - 1.0)
    }
}

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
    hand: Arc<Hand>,
    /// The player is silent while the program counts in.
    waits_for_the_count_in: bool,
    tenths: i64,
}

impl Evening {
    fn begin(folder: &Path) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let hand = Arc::new(Hand { plays_all: AtomicBool::new(true), ..Hand::default() });
        let (hand_of_player, coming) = (Arc::clone(&hand), VecDeque::new());
        let mut player =
            Player { hand: hand_of_player, level: [0.0; 2], since: 0, turned: 1.0, dice: 1, noise: 1, coming };
        simulation.enter(move |first: u64, speakers: &[f32], microphone: &mut [f32]| {
            player.hear(first, speakers, microphone);
        });
        let studio = Studio::simulated(sound, Some(folder), BEGIN, ZONE);
        let window = Window { studio: Some(studio), app: None, now: BEGIN };
        let harness =
            Harness::builder().with_size([1280.0, 800.0]).build_ui_state(|ui, window| window.frame(ui), window);
        let mut evening = Self { harness, simulation, hand, waits_for_the_count_in: false, tenths: 0 };
        evening.run_tenths(5);
        evening.wish(Intent::SetVolume(Part::Click, Volumes::SILENT_DB));
        evening
    }

    fn run_tenths(&mut self, tenths: u32) {
        for _ in 0..tenths {
            if self.waits_for_the_count_in {
                let waits = matches!(self.view().phase, Phase::CountIn { .. } | Phase::Between);
                self.hand.silent.store(waits, Ordering::Relaxed);
            }
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

    evening.hand.plays_all.store(false, Ordering::Relaxed);
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

impl Evening {
    /// Our own sound comes back into the microphone, so many decibels under what the speakers play; the click is on or
    /// off.
    fn with_own_sound(folder: &Path, own_db: f32, click_db: f32) -> Self {
        let mut evening = Self::begin(folder);
        evening.wish(Intent::SetVolume(Part::Click, click_db));
        evening.hand.own.store(10.0_f32.powf(own_db / 20.0).to_bits(), Ordering::Relaxed);
        evening.harness.key_press(egui::Key::Space);
        assert_eq!(evening.next_result().detail, "I was getting to know your sound.");
        evening
    }
}

#[test]
fn our_own_guitar_alone_in_the_microphone_is_never_clean() {
    fn check(own_db: f32, click_db: f32) {
        let folder = tempfile::tempdir().expect("a folder for the journal");
        let mut evening = Evening::with_own_sound(folder.path(), own_db, click_db);
        evening.hand.silent.store(true, Ordering::Relaxed);
        let result = evening.next_result();
        assert_eq!(result.headline, "Not judged.", "own {own_db} dB, click {click_db} dB: {}", result.detail);
        assert_eq!(evening.view().ladder.pegs_filled, 0);
    }
    for own_db in [0.0, -6.0, -20.0] {
        check(own_db, Volumes::SILENT_DB);
        // About as loud as a strum, which this player copies with the click.
        check(own_db, -6.0);
    }
}

#[test]
fn a_first_pass_whose_round_trip_is_not_found_is_not_judged() {
    // This player copies the click at its full strength too, so that nothing fits.
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::SetVolume(Part::Click, 0.0));
    evening.hand.own.store(0.1_f32.to_bits(), Ordering::Relaxed);
    evening.harness.key_press(egui::Key::Space);
    let result = evening.next_result();
    assert_eq!(result.headline, "Not judged.", "{}", result.detail);
    assert_eq!(evening.view().ladder.pegs_filled, 0);
}

#[test]
fn a_player_is_judged_beside_our_sound_ten_decibels_under() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::with_own_sound(folder.path(), -10.0, Volumes::SILENT_DB);
    for _ in 0..2 {
        let result = evening.next_result();
        assert_eq!(result.headline, "Clean.", "{}", result.detail);
    }
    evening.hand.plays_all.store(false, Ordering::Relaxed);
    assert_eq!(evening.next_result().headline, "Not clean yet.");
}

#[test]
fn a_round_trip_that_grows_is_set_right_and_never_called_late_playing() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::with_own_sound(folder.path(), -10.0, -20.0);
    evening.waits_for_the_count_in = true;
    // The second count-in had begun already: its way is known from the third on.
    for _ in 0..2 {
        let result = evening.next_result();
        assert_eq!(result.headline, "Clean.", "{}", result.detail);
    }
    let known_ms = evening.studio().session().sound().round_trip_ms.expect("found by the first pass");

    evening.hand.late.store(48 * 60, Ordering::Relaxed);
    let result = evening.next_result();
    assert_eq!(result.detail, "Your sound took another time to reach me than before.");
    let moved_ms = evening.studio().session().sound().round_trip_ms.expect("set right") - known_ms;
    assert!((moved_ms - 60.0).abs() < 1.0, "set right by {moved_ms:.2} ms of 60");
    assert_eq!(evening.next_result().headline, "Clean.", "the same playing, judged by the new round trip");
    drop(evening);

    let next = Evening::begin(folder.path());
    let kept_ms = next.studio().session().sound().round_trip_ms.expect("kept");
    assert!((kept_ms - known_ms - moved_ms).abs() < 1e-6, "kept {kept_ms}, known {known_ms}, moved {moved_ms}");
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
