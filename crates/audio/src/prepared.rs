//! A timeline made ready to sound: every string tuned and every sound table drawn before the audio thread sees it.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use sixrung_timeline::{Brush, Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

use crate::instrument::Instrument;
use crate::kit::Kit;
use crate::song::Song;
use crate::string::attack::attack;
use crate::string::excite::excitation;
use crate::string::lanes::LANES;
use crate::string::model::{Loop, Touch};
use crate::{bass, brush, chuck, click, loudness};

/// What happens at one moment of a timeline, its sounds looked up.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Step {
    /// Tick from the start of its segment.
    pub at: Tick,
    /// Frames after that tick; before it when negative.
    pub delay: i64,
    /// What happens.
    pub act: Act,
}

/// What a step does.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Act {
    /// Plays a click's table.
    Click { table: u16 },
    /// Strikes a string.
    Pluck { string: u8, voice: u16, velocity: f32 },
    /// Plays a deadened string's table.
    Chuck { string: u8, table: u16, velocity: f32 },
    /// Stops a string.
    Damp { string: u8 },
    /// Plays a bass note's table.
    Bass { table: u16, velocity: f32 },
    /// Stops the bass.
    BassStop,
    /// Plays a brush's table.
    Brush { table: u16, velocity: f32 },
    /// Plays a recording's table.
    Recording { table: u16 },
    /// Plays the learner's own recording, from a frame of it on.
    Song { from: usize },
}

/// One string at one pitch, struck one way.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Voice {
    /// The loop it runs in.
    pub tuned: Loop,
    /// Table that excites the loop.
    pub excitation: u16,
    /// Table heard beside the loop: the bright beginning.
    pub attack: u16,
}

/// A timeline ready for the performer. Made off the audio thread; takes some milliseconds.
pub struct Prepared {
    timeline: Timeline,
    intro: Box<[Step]>,
    cycle: Box<[Step]>,
    voices: Vec<Voice>,
    tables: Vec<Box<[f32]>>,
    song: Option<Arc<Song>>,
    level: f32,
}

impl Prepared {
    /// Makes `timeline` ready to be played on `instrument`, with wood for a click. Events on strings beyond the eighth,
    /// and pitches too high for the timeline's rate, stay silent.
    #[must_use]
    pub fn new(timeline: Timeline, instrument: &Instrument) -> Self {
        Self::on(timeline, &Kit::from(instrument.clone()))
    }

    /// Makes `timeline` ready to be played on `kit`.
    #[must_use]
    pub fn on(timeline: Timeline, kit: &Kit) -> Self {
        let mut workshop = Workshop::new(timeline.grid.rate(), kit);
        let intro = workshop.steps(&timeline, &timeline.intro_events);
        let cycle = workshop.steps(&timeline, &timeline.cycle_events);
        let Workshop { voices, tables, .. } = workshop;
        Self { timeline, intro, cycle, voices, tables, song: None, level: 1.0 }
    }

    /// The same with its music brought to [`crate::MUSIC_LUFS`]: its strings are played through once beforehand, which
    /// takes some hundredths of a second.
    #[must_use]
    pub fn levelled(timeline: Timeline, kit: &Kit) -> Self {
        let level = loudness::level(&timeline, kit).factor();
        Self { level, ..Self::on(timeline, kit) }
    }

    /// A mono recording at `rate` frames a second, to be played once, on both sides, under `id`. Its gain is that of
    /// [`crate::Part::Recording`]; samples that are no numbers are silence.
    #[must_use]
    pub fn recording(id: u64, rate: u32, samples: Vec<f32>) -> Self {
        /// A second of ticks: the recording's length is rounded up to the next one.
        const SECOND: u32 = 960;
        let grid = TempoGrid::new(rate, Tempo::from_bpm(60.0).expect("an ordinary tempo"), Tick(SECOND));
        let ticks = (samples.len() as u64 * u64::from(SECOND)).div_ceil(u64::from(rate.max(1))).max(1);
        let length = Tick(u32::try_from(ticks).unwrap_or(u32::MAX));
        let timeline = Timeline {
            id,
            grid,
            intro: Tick::ZERO,
            intro_events: Box::default(),
            cycle: length,
            cycle_events: Box::default(),
            pass_at: Tick::ZERO,
            pass: length,
            passes: Some(1),
        };
        let sane = |sample: f32| if sample.is_finite() { sample } else { 0.0 };
        Self {
            timeline,
            intro: Box::default(),
            cycle: Box::new([Step { at: Tick::ZERO, delay: 0, act: Act::Recording { table: 0 } }]),
            voices: Vec::new(),
            tables: vec![samples.into_iter().map(sane).collect()],
            song: None,
            level: 1.0,
        }
    }

    /// The same, with the learner's own recording in every pass: its first frame after the lead is heard on the pass's
    /// first frame. Where nothing comes before the pass, the lead is left out.
    #[must_use]
    pub fn with_song(mut self, song: Arc<Song>) -> Self {
        let Timeline { grid, pass_at, .. } = self.timeline;
        let lead = song.lead();
        let step = if pass_at == Tick::ZERO {
            Step { at: pass_at, delay: 0, act: Act::Song { from: lead } }
        } else {
            Step { at: pass_at, delay: -i64::try_from(lead).unwrap_or(i64::MAX), act: Act::Song { from: 0 } }
        };
        #[expect(clippy::cast_precision_loss, reason = "frames of a pass")]
        let seconds = |step: &Step| grid.seconds(step.at) + step.delay as f64 / f64::from(grid.rate());
        let mut steps = std::mem::take(&mut self.cycle).into_vec();
        let place = steps.partition_point(|other| seconds(other) < seconds(&step));
        steps.insert(place, step);
        self.cycle = steps.into_boxed_slice();
        self.song = Some(song);
        self
    }

    /// The learner's own recording, if it has one.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn song(&self) -> Option<&Song> {
        self.song.as_deref()
    }

    /// The timeline it plays.
    ///
    /// # Real-time
    /// Reads a pointer.
    #[must_use]
    pub fn timeline(&self) -> &Timeline {
        &self.timeline
    }

    /// The factor that levels its music.
    ///
    /// # Real-time
    /// Reads a number.
    pub(crate) fn level(&self) -> f32 {
        self.level
    }

    /// The steps of the intro, by time.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn intro(&self) -> &[Step] {
        &self.intro
    }

    /// The steps of the cycle, by time.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn cycle(&self) -> &[Step] {
        &self.cycle
    }

    /// A voice.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn voice(&self, voice: u16) -> Option<&Voice> {
        self.voices.get(usize::from(voice))
    }

    /// A table's samples; none at all if there is no such table.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn table(&self, table: u16) -> &[f32] {
        self.tables.get(usize::from(table)).map_or(&[], |samples| samples)
    }
}

impl fmt::Debug for Prepared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Prepared").field("id", &self.timeline.id).field("voices", &self.voices.len()).finish()
    }
}

/// Where voices and tables are made, each once.
struct Workshop<'a> {
    rate: u32,
    instrument: &'a Instrument,
    voices: Vec<Voice>,
    tables: Vec<Box<[f32]>>,
    plucks: BTreeMap<(u8, Pitch, bool, Touch), Option<u16>>,
    attacks: BTreeMap<(u8, Pitch, Touch), u16>,
    chucks: BTreeMap<u8, u16>,
    basses: BTreeMap<Pitch, u16>,
    brushes: [Option<u16>; brush::BRUSHES.len()],
}

impl<'a> Workshop<'a> {
    fn new(rate: u32, kit: &'a Kit) -> Self {
        Self {
            rate,
            instrument: &kit.guitar,
            voices: Vec::new(),
            tables: click::kinds().map(|kind| click::table(rate, kit.click, kind)).collect(),
            plucks: BTreeMap::new(),
            attacks: BTreeMap::new(),
            chucks: BTreeMap::new(),
            basses: BTreeMap::new(),
            brushes: [None; brush::BRUSHES.len()],
        }
    }

    /// The events that can sound, by the time they do: a late string of a sweep may follow a click written after it.
    fn steps(&mut self, timeline: &Timeline, events: &[Event]) -> Box<[Step]> {
        let seconds = |event: &Event| timeline.grid.seconds(event.at) + f64::from(event.delay_ns) * 1e-9;
        let mut ordered: Vec<&Event> = events.iter().collect();
        ordered.sort_by(|a, b| seconds(a).total_cmp(&seconds(b)));
        ordered.into_iter().filter_map(|event| self.step(event)).collect()
    }

    fn step(&mut self, event: &Event) -> Option<Step> {
        let delay = (u64::from(event.delay_ns) * u64::from(self.rate) + 500_000_000) / 1_000_000_000;
        Some(Step { at: event.at, delay: i64::try_from(delay).unwrap_or(i64::MAX), act: self.act(event.kind)? })
    }

    fn act(&mut self, kind: EventKind) -> Option<Act> {
        let act = match kind {
            EventKind::Click(kind) => Act::Click { table: click::index(kind) },
            EventKind::Pluck { string, pitch, velocity, direction } => {
                let voice = self.voice(string, pitch, direction, Touch::Open)?;
                Act::Pluck { string, voice, velocity: sane(velocity) }
            }
            EventKind::PalmMuted { string, pitch, velocity, direction } => {
                let voice = self.voice(string, pitch, direction, Touch::Palm)?;
                Act::Pluck { string, voice, velocity: sane(velocity) }
            }
            EventKind::Chuck { string, velocity, .. } => {
                Act::Chuck { string, table: self.chuck(string), velocity: sane(velocity) }
            }
            EventKind::Bass { pitch, velocity } => Act::Bass { table: self.bass(pitch), velocity: sane(velocity) },
            EventKind::BassStop => Act::BassStop,
            EventKind::Brush { brush, velocity } => Act::Brush { table: self.brush(brush), velocity: sane(velocity) },
            EventKind::Damp { string } => Act::Damp { string },
        };
        let string = match act {
            Act::Click { .. } | Act::Recording { .. } | Act::Song { .. } => 0,
            Act::Bass { .. } | Act::BassStop | Act::Brush { .. } => 0,
            Act::Pluck { string, .. } | Act::Chuck { string, .. } | Act::Damp { string } => string,
        };
        (usize::from(string) < LANES).then_some(act)
    }

    fn voice(&mut self, string: u8, pitch: Pitch, direction: Direction, touch: Touch) -> Option<u16> {
        let key = (string, pitch, direction == Direction::Up, touch);
        if let Some(known) = self.plucks.get(&key) {
            return *known;
        }
        let voice = self.new_voice(string, pitch, direction, touch);
        self.plucks.insert(key, voice);
        voice
    }

    fn new_voice(&mut self, string: u8, pitch: Pitch, direction: Direction, touch: Touch) -> Option<u16> {
        let (rate, character) = (f64::from(self.rate), self.instrument.character(string).touched(touch));
        let open = self.instrument.open(string).hertz();
        let tuned = Loop::design(rate, pitch.hertz(), open, &character)?;
        let seed = u32::from(string) << 8 | u32::from(pitch.0);
        let attack_table = match self.attacks.get(&(string, pitch, touch)) {
            Some(known) => *known,
            None => {
                let table = self.keep(attack(rate, pitch.hertz(), open, &character, seed));
                self.attacks.insert((string, pitch, touch), table);
                table
            }
        };
        let table = self.keep(excitation(rate, tuned.period, &character, direction, seed));
        self.voices.push(Voice { tuned, excitation: table, attack: attack_table });
        u16::try_from(self.voices.len() - 1).ok()
    }

    fn chuck(&mut self, string: u8) -> u16 {
        if let Some(known) = self.chucks.get(&string) {
            return *known;
        }
        let samples = chuck::table(self.rate, self.instrument.open(string).hertz(), u32::from(string));
        let table = self.keep(samples);
        self.chucks.insert(string, table);
        table
    }

    fn bass(&mut self, pitch: Pitch) -> u16 {
        if let Some(known) = self.basses.get(&pitch) {
            return *known;
        }
        let table = self.keep(bass::table(self.rate, pitch.hertz()));
        self.basses.insert(pitch, table);
        table
    }

    fn brush(&mut self, brush: Brush) -> u16 {
        let place = usize::from(brush::index(brush));
        if let Some(known) = self.brushes[place] {
            return known;
        }
        let table = self.keep(brush::table(self.rate, brush));
        self.brushes[place] = Some(table);
        table
    }

    /// Keeps a table and says where. A timeline has at most 8 strings of 128 pitches, three tables each.
    fn keep(&mut self, samples: Box<[f32]>) -> u16 {
        self.tables.push(samples);
        u16::try_from(self.tables.len() - 1).unwrap_or(u16::MAX)
    }
}

/// A velocity between 0 and 1; one that is no number is silence.
fn sane(velocity: f32) -> f32 {
    if velocity.is_finite() { velocity.clamp(0.0, 1.0) } else { 0.0 }
}
