//! Practice as a script: the program's own session, without sound, clock or window. What the session wants played is
//! laid on a clock of frames; a player made of numbers answers each pass with strums; the program's own judge judges them.

use sixrung::library::Source;
use sixrung::session::{
    ClimbKey, Effect, Heard, Input, Now, Opened, Order, PassDone, Session, Settings, SoundState, Standing,
    lesson_changes, today_request,
};
use sixrung::stand::{Intent, StandView};
use sixrung_audio::Report;
use sixrung_lesson::Stretch;
use sixrung_listen::{Moment as HeardMoment, PassVerdict, Quality, Strum, judge};
use sixrung_practice::{ClimbState, Done, Felt, Moment, Step, StepsDone, UtcOffset};
use sixrung_timeline::{FineFrames, Frames, Tick, Timeline};

const RATE: u32 = 48_000;

/// A session and the world around it.
pub struct Script {
    session: Session,
    /// Output frames so far, and the moment frame 0 was.
    frame: u64,
    begin: i64,
    sounding: Option<Sounding>,
    next: Option<Timeline>,
    order: Option<Order>,
    climbs: Vec<(ClimbKey, ClimbState)>,
    /// What is kept of each path.
    pub steps: Vec<(ClimbKey, StepsDone)>,
    /// The passes kept.
    pub passes: Vec<PassDone>,
    /// Wishes only a window can carry out.
    pub wishes: Vec<Intent>,
    /// How the hands felt.
    pub felt: Vec<(Felt, Moment)>,
}

struct Sounding {
    timeline: Timeline,
    cycle: u64,
    /// Where the running cycle began.
    at: u64,
}

impl Script {
    /// A session with a lesson's text on the stand, from `begin` on.
    ///
    /// # Panics
    /// When the lesson is not clean.
    #[must_use]
    pub fn begin(lesson: &str, begin: Moment) -> Self {
        let session = Session::new(Settings::default(), UtcOffset(0), 0);
        let mut script = Self {
            session,
            frame: 0,
            begin: begin.0,
            sounding: None,
            next: None,
            order: None,
            climbs: Vec::new(),
            steps: Vec::new(),
            passes: Vec::new(),
            wishes: Vec::new(),
            felt: Vec::new(),
        };
        let sound =
            SoundState { rate: RATE, output: true, input: true, round_trip_ms: Some(0.0), ..SoundState::default() };
        script.take(Input::Sound(sound));
        let read = sixrung_lesson::read(lesson.as_bytes()).expect("the lesson is clean");
        let source = Source::File("lesson.ron".into());
        script.take(Input::Opened(Opened { source, lesson: read.lesson.into(), hash: read.hash, assigned: None }));
        script
    }

    /// The session itself.
    #[must_use]
    pub const fn session(&self) -> &Session {
        &self.session
    }

    /// What the stand shows.
    #[must_use]
    pub fn view(&self) -> StandView {
        self.session.view(self.now())
    }

    /// By the clocks.
    #[must_use]
    pub fn now(&self) -> Now {
        let seconds = i64::try_from(self.frame / u64::from(RATE)).expect("a month of frames");
        Now { moment: Moment(self.begin + seconds), frame: self.frame }
    }

    /// So many seconds pass in which nothing happens, but that the session looks at the clock.
    pub fn wait(&mut self, seconds: i64) {
        self.begin += seconds;
        for effect in self.session.pass_over(self.now()) {
            self.carry_out(effect);
        }
    }

    /// A wish of the player.
    pub fn wish(&mut self, intent: Intent) {
        self.take(Input::Intent(intent));
    }

    /// Something happens.
    pub fn take(&mut self, input: Input) {
        let effects = self.session.update(input, self.now());
        for effect in effects {
            self.carry_out(effect);
        }
    }

    /// The running pass, from its count-in to the next one's: `play` turns what was expected into what is heard, on
    /// the output's clock. `None` when nothing is listened to.
    pub fn pass(&mut self, play: impl FnOnce(&Order) -> Vec<Strum>) -> Option<PassVerdict> {
        self.judged(|order| judge(&order.plan, &play(order), &order.criterion, &hears_well(order)))
    }

    /// The same, `judged` says what became of it.
    pub fn judged(&mut self, judged: impl FnOnce(&Order) -> PassVerdict) -> Option<PassVerdict> {
        if self.order.is_none() {
            self.hear_out();
        }
        let order = self.order.take()?;
        let timeline = &self.sounding.as_ref()?.timeline;
        let frames = |ticks: Tick| timeline.grid.frame(FineFrames::default(), u64::from(ticks.0)).0;
        let (heard, ends) = (frames(timeline.pass_at + timeline.pass), frames(timeline.cycle));
        let begins = self.sounding.as_ref()?.at;
        self.frame = begins + heard;
        let verdict = judged(&order);
        let heard = Heard::Pass {
            order: order.id,
            verdict: Box::new(verdict.clone()),
            round_trip: None,
            own_way_ms: None,
            recording: None,
        };
        self.take(Input::Heard(heard));
        // It goes on by itself: the rest, then the next cycle, at another tempo where one was handed over.
        if let Some(sounding) = &self.sounding {
            let cycle = sounding.cycle + 1;
            self.frame = begins + ends;
            match self.next.take() {
                Some(timeline) => self.start(timeline),
                None => self.cycle(cycle),
            }
        }
        Some(verdict)
    }

    /// What is only listened to plays to its end.
    pub fn hear_out(&mut self) {
        let Some(sounding) = self.sounding.as_ref().filter(|sounding| sounding.timeline.passes.is_some()) else {
            return;
        };
        let grid = sounding.timeline.grid;
        let length =
            grid.frame(FineFrames::default(), u64::from((sounding.timeline.intro + sounding.timeline.cycle).0));
        let id = sounding.timeline.id;
        self.frame = sounding.at + length.0;
        self.sounding = None;
        self.take(Input::Report(Report::Finished { id, frame: Frames(self.frame) }));
    }

    fn carry_out(&mut self, effect: Effect) {
        match effect {
            Effect::Play(timeline) => {
                self.next = None;
                self.start(*timeline);
            }
            Effect::PlayNext(timeline) => self.next = Some(*timeline),
            Effect::Silence => (self.sounding, self.next, self.order) = (None, None, None),
            Effect::Forget => self.order = None,
            Effect::Listen(order) => self.order = Some(order),
            Effect::FindClimb(key) => {
                let found = self.climbs.iter().find(|(other, _)| *other == key).map(|(_, state)| state.clone());
                self.take(Input::ClimbFound(key, found));
            }
            Effect::FindSteps(key) => {
                let found = self.steps.iter().find(|(other, _)| *other == key).map(|(_, steps)| steps.clone());
                self.take(Input::StepsFound(key, found.unwrap_or_default()));
            }
            Effect::KeepClimb(key, state) => self.keep_climb(key, state),
            Effect::PlanToday(minutes) => self.plan(minutes),
            Effect::KeepFelt(felt, at) => self.felt.push((felt, at)),
            Effect::KeepStep(key, step, done, at) => self.keep_step(&key, step, done, at),
            Effect::Record(done) => {
                if let Some(state) = done.climb.clone() {
                    self.keep_climb(done.key.clone(), state);
                }
                self.passes.push(*done);
            }
            Effect::Window(intent) => self.wishes.push(intent),
            _ => {}
        }
    }

    /// Makes a plan as the room does, from what was kept.
    fn plan(&mut self, minutes: u16) {
        let Some(stage) = self.session.stage() else { return };
        let find = |stretch: &Stretch| -> Standing {
            let Some(key) = self.session.section_key(stretch.clone()) else { return Standing::default() };
            let climb = self.climbs.iter().find(|(other, _)| *other == key).map(|(_, state)| state.clone());
            let steps = self.steps.iter().find(|(other, _)| *other == key).map(|(_, steps)| steps.clone());
            (climb, steps.unwrap_or_default())
        };
        let (lesson, arrangement) = (stage.lesson(), stage.arrangement());
        let changes = lesson_changes(lesson, arrangement, |_, _, _| None);
        let at = (minutes, self.now().moment, UtcOffset(0));
        let request = today_request(lesson, arrangement, at, find, changes, &self.session.played_today());
        self.take(Input::Planned(sixrung_practice::today::plan(&request)));
    }

    /// The climb kept of a section.
    #[must_use]
    pub fn climb(&self, section: &str) -> Option<&ClimbState> {
        let wanted = Stretch::Section(section.to_owned());
        self.climbs.iter().find(|(key, _)| key.stretch == wanted).map(|(_, state)| state)
    }

    fn keep_climb(&mut self, key: ClimbKey, state: ClimbState) {
        self.climbs.retain(|(other, _)| *other != key);
        self.climbs.push((key, state));
    }

    fn keep_step(&mut self, key: &ClimbKey, step: Step, done: Done, at: Moment) {
        if !self.steps.iter().any(|(other, _)| other == key) {
            self.steps.push((key.clone(), StepsDone::default()));
        }
        for (_, steps) in self.steps.iter_mut().filter(|(other, _)| other == key) {
            steps.set(step, done, at);
        }
    }

    fn start(&mut self, timeline: Timeline) {
        let (id, frame) = (timeline.id, Frames(self.frame));
        self.sounding = Some(Sounding { timeline, cycle: 0, at: self.frame });
        self.take(Input::Report(Report::Started { id, frame, fine: FineFrames::from_frames(frame) }));
        self.cycle(0);
    }

    fn cycle(&mut self, cycle: u64) {
        let frame = Frames(self.frame);
        let Some(sounding) = &mut self.sounding else { return };
        (sounding.cycle, sounding.at) = (cycle, frame.0);
        let id = sounding.timeline.id;
        self.take(Input::Report(Report::CycleStarted { id, cycle, frame, fine: FineFrames::from_frames(frame) }));
    }
}

/// Input through which a pass can be judged: loud, whole, to its end and a little beyond.
fn hears_well(order: &Order) -> Quality {
    let ends = order.plan.starts_s + order.plan.length_s + 1.0;
    let moments = std::iter::successors(Some(order.plan.starts_s - 0.5), |at| Some(at + 0.02));
    let moment = |end_s| HeardMoment { end_s, level_db: -30.0, peak_db: -20.0, clipped: 0.0, gap: false, bad: false };
    let moments = moments.take_while(|at| *at < ends).map(moment).collect();
    Quality { moments, struck: true, ..Quality::default() }
}

/// A strum that can't be doubted.
#[must_use]
pub const fn strum(at_s: f64) -> Strum {
    Strum { at_s, strength_db: -30.0, rise_db: 15.0, gain_db: 15.0, certain: true }
}

/// Every stroke, `late_s` after its time.
#[must_use]
pub fn in_time(order: &Order, late_s: f64) -> Vec<Strum> {
    order.plan.strokes.iter().map(|stroke| strum(order.plan.starts_s + stroke.at_s + late_s)).collect()
}
