//! An evening on simulated devices and clock, through the real session, ear, journal and window. The player plays what
//! the speakers play, in time, on strings of his own: they start up or down as chance has it, stroke by stroke, so that
//! what he plays is no echo. Beside him our own sound may reach the microphone as an echo does.

use std::collections::VecDeque;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicU32, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use egui_kittest::Harness;
use sixrung::app::App;
use sixrung::stand::{Intent, Part, Phase, ResultView, StandView, Volumes};
use sixrung::studio::Studio;
use sixrung_devices::{Pedals, SimulatedConfig, SimulatedPedal, Simulation, Sound};
use sixrung_practice::{Moment, UtcOffset};

const RATE: u64 = 48_000;
/// A step of the simulated evening: a tenth of a second.
const STEP: u64 = RATE / 10;
/// Where the evening is.
pub const ZONE: UtcOffset = UtcOffset(0);
/// A Tuesday evening.
pub const BEGIN: Moment = Moment(1_795_543_200);

/// How the player plays, moved by the test.
#[derive(Default)]
pub struct Hand {
    /// Whether every stroke is played; else about half are left out.
    pub plays_all: AtomicBool,
    /// Whether anything is played.
    pub silent: AtomicBool,
    /// How loud our own sound is in the microphone: bits of a factor.
    pub own: AtomicU32,
    /// How much later than it should all sound arrives, in frames.
    pub late: AtomicUsize,
    /// What the player plays of his own accord next, at 48,000 frames a second.
    pub unasked: Mutex<VecDeque<f32>>,
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
        let hand = Arc::clone(&self.hand);
        let mut unasked = hand.unasked.lock().unwrap_or_else(PoisonError::into_inner);
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
            *heard = arrives + unasked.pop_front().unwrap_or(0.0) + self.hiss();
        }
    }

    /// No room is silent: −85 dB of noise, by the generator of Numerical Recipes.
    fn hiss(&mut self) -> f32 {
        self.noise = self.noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        1e-4 * (f32::from(u16::try_from(self.noise >> 16).expect("16 bits")) / 32_768.0 - 1.0)
    }
}

/// What the window holds: the app is made on its first frame, when there is a context to make it with.
pub struct Window {
    studio: Option<Studio>,
    app: Option<App>,
    now: Moment,
    lesson: Option<String>,
}

impl Window {
    fn frame(&mut self, ui: &mut egui::Ui) {
        if let Some(studio) = self.studio.take() {
            self.app = Some(App::new(ui.ctx(), studio, self.lesson.as_deref()));
        }
        let app = self.app.as_mut().expect("the first frame made it");
        app.frame(ui, self.now);
    }
}

/// One evening: the window, and the sound and the clock that the test moves.
pub struct Evening {
    /// The window.
    pub harness: Harness<'static, Window>,
    /// The devices.
    pub simulation: Simulation,
    /// The player's hand.
    pub hand: Arc<Hand>,
    /// The MIDI pedal at the player's foot.
    pub pedal: SimulatedPedal,
    /// The player is silent while the program counts in.
    pub waits_for_the_count_in: bool,
    tenths: i64,
}

impl Evening {
    /// Begins, with the journal in `folder`; the click is silent.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn begin(folder: &Path) -> Self {
        Self::in_window(folder, [1280.0, 800.0])
    }

    /// The same in a window of this size, in points.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn in_window(folder: &Path, size: [f32; 2]) -> Self {
        Self::on_screen(folder, size, 1.0)
    }

    /// The same on a screen with so many pixels to a point.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn on_screen(folder: &Path, size: [f32; 2], pixels_per_point: f32) -> Self {
        let mut evening = Self::opened(folder, (size, pixels_per_point), Some("lantern-on-the-quay"));
        // A test that wants the part first says so.
        evening.wish(Intent::HearFirst(false));
        evening
    }

    fn opened(folder: &Path, (size, pixels_per_point): ([f32; 2], f32), lesson: Option<&str>) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let hand = Arc::new(Hand { plays_all: AtomicBool::new(true), ..Hand::default() });
        let (hand_of_player, coming) = (Arc::clone(&hand), VecDeque::new());
        let mut player =
            Player { hand: hand_of_player, level: [0.0; 2], since: 0, turned: 1.0, dice: 1, noise: 1, coming };
        simulation.enter(move |first: u64, speakers: &[f32], microphone: &mut [f32]| {
            player.hear(first, speakers, microphone);
        });
        let (pedals, pedal) = Pedals::simulated();
        let mut studio = Studio::simulated(sound, Some(folder), BEGIN, ZONE).with_pedals(pedals);
        if lesson.is_none() {
            studio.caution(BEGIN);
        }
        let window = Window { studio: Some(studio), app: None, now: BEGIN, lesson: lesson.map(str::to_owned) };
        let builder = Harness::builder().with_size(size).with_pixels_per_point(pixels_per_point);
        let harness = builder.wgpu().build_ui_state(|ui, window| window.frame(ui), window);
        // What the toolkit marks for its developers is not in the program as it is released.
        #[cfg(debug_assertions)]
        harness.ctx.all_styles_mut(|style| style.debug.show_unaligned = false);
        let mut evening = Self { harness, simulation, hand, pedal, waits_for_the_count_in: false, tenths: 0 };
        evening.run_tenths(5);
        evening.wish(Intent::SetVolume(Part::Click, Volumes::SILENT_DB));
        evening
    }

    /// The very first start: no lesson was named, nothing was played before.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn first_start(folder: &Path) -> Self {
        Self::first_start_on(folder, [1280.0, 800.0], 1.0)
    }

    /// The same in a window of this size, in points, on a screen with so many pixels to a point.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn first_start_on(folder: &Path, size: [f32; 2], pixels_per_point: f32) -> Self {
        Self::opened(folder, (size, pixels_per_point), None)
    }

    /// A start with what was named on the command line: a demo, a lesson's file, a report.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn with(folder: &Path, named: &str) -> Self {
        Self::opened(folder, ([1280.0, 800.0], 1.0), Some(named))
    }

    /// So many tenths of a second pass.
    pub fn run_tenths(&mut self, tenths: u32) {
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

    /// The room.
    ///
    /// # Panics
    /// Before the first frame.
    #[must_use]
    pub fn studio(&self) -> &Studio {
        self.harness.state().app.as_ref().expect("the first frame made it").studio()
    }

    /// What the stand shows.
    #[must_use]
    pub fn view(&self) -> StandView {
        self.studio().view(self.harness.state().now)
    }

    /// Writes what the window shows now as a picture.
    ///
    /// # Panics
    /// When it can't be drawn or written.
    pub fn picture(&mut self, file: &Path) {
        self.harness.render().expect("a renderer is there").save(file).expect("the folder can be written");
    }

    /// A wish that comes by no key.
    ///
    /// # Panics
    /// Before the first frame.
    pub fn wish(&mut self, intent: Intent) {
        let now = self.harness.state().now;
        self.harness.state_mut().app.as_mut().expect("the first frame made it").wish(intent, now);
        self.harness.step();
    }

    /// The player plays this now, of his own accord, at 48,000 frames a second; it takes its time.
    pub fn play_unasked(&mut self, sound: &[f32]) {
        self.hand.unasked.lock().unwrap_or_else(PoisonError::into_inner).extend(sound);
        let tenths = sound.len() / usize::try_from(STEP).unwrap_or(1);
        self.run_tenths(u32::try_from(tenths).unwrap_or(0) + 1);
    }

    /// The player's rung, as printed.
    #[must_use]
    pub fn rung(&self) -> String {
        let ladder = self.view().ladder;
        ladder.rungs[ladder.current].bpm.clone()
    }

    /// Runs until the next result lies on the sheet, and gives it.
    ///
    /// # Panics
    /// When there is none within two minutes.
    pub fn next_result(&mut self) -> ResultView {
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

impl Evening {
    /// Our own sound comes back into the microphone, so many decibels under what the speakers play; the click is on or
    /// off.
    ///
    /// # Panics
    /// When the first pass does not find the round trip.
    #[must_use]
    pub fn with_own_sound(folder: &Path, own_db: f32, click_db: f32) -> Self {
        let mut evening = Self::begin(folder);
        evening.wish(Intent::SetVolume(Part::Click, click_db));
        evening.hand.own.store(10.0_f32.powf(own_db / 20.0).to_bits(), Ordering::Relaxed);
        evening.harness.key_press(egui::Key::Space);
        assert_eq!(evening.next_result().detail, "I was getting to know your sound.");
        evening
    }
}
