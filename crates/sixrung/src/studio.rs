//! The room around a session: carries out what it wants, on sound devices, ear and journal, and tells it what happened.

mod assigned;
mod calibration;
mod changes;
mod chords;
mod desk;
mod devices;
mod effects;
mod guide;
mod hand_over;
mod journal;
mod keeper;
mod pages;
mod papers;
mod seat;
mod settings;
mod shapes;
mod shown;
mod song;
mod today;

use std::path::{Path, PathBuf};

use sixrung_audio::{Command, Controls};
use sixrung_devices::{Config, PedalPress, Pedals, Sound};
use sixrung_journal::Measured;
use sixrung_lesson::read;
use sixrung_practice::{Felt, Moment, PainFlag, UtcOffset};

use crate::library::Source;
use crate::session::{FoundTrip, Heard, Input, Now, Opened, Session, SoundState};
use crate::song::Worker;
use crate::stand::{InputChoice, Intent, LessonSource, Note, Page, StandView};
use crate::text;
use calibration::Calibration;
use chords::Chords;
use desk::Told;
use seat::Seat;
use song::Songs;

pub(crate) use keeper::Keeper;
pub(crate) use settings::devices;

/// Commands and reports that may wait between the window and the audio thread.
const WAITING: usize = 64;
/// Lessons kept in mind, latest first.
const RECENT: usize = 8;

/// One player's room.
pub struct Studio {
    session: Session,
    sound: Sound,
    config: Config,
    pedals: Pedals,
    /// The performer's other end, and the rate it was made for.
    controls: Option<(Controls, u32)>,
    unsent: Vec<Command>,
    seat: Option<Seat>,
    keeper: Keeper,
    /// Where files for people are written, if not beside the journal.
    papers: Option<PathBuf>,
    recent: Vec<Source>,
    page: Option<Page>,
    /// Whether the ear was last told to hear four muted strokes.
    hears_start: bool,
    /// The one string the tuner listens for, or any.
    only_string: Option<usize>,
    chords: Chords,
    shapes: shapes::Shapes,
    changes: changes::Changes,
    looking: journal::Looking,
    on_paper: guide::OnPaper,
    handing: hand_over::HandingOver,
    problems: Vec<Note>,
    calibration: Calibration,
    songs: Songs,
    quits: bool,
}

impl Studio {
    /// A room on this machine's devices, with its journal in `folder`. `wake` is called, from another thread, when
    /// there is something new to show.
    #[must_use]
    pub fn open(folder: &Path, now: Moment, zone: UtcOffset, wake: impl Fn() + Send + Clone + 'static) -> Self {
        let (keeper, notes) = Keeper::open(folder, now, zone);
        let config = settings::devices(&keeper.settings());
        let mut sound = Sound::open(config.clone());
        let worker = Worker::apart(wake.clone()).unwrap_or_else(|_| Worker::here());
        let pedals = Pedals::open(wake.clone());
        let seat = sound.take_reader().and_then(|reader| Seat::apart(reader, Box::new(wake)).ok());
        let mut studio = Self::furnish(sound, config, (seat, worker), keeper, now, zone).with_pedals(pedals);
        for note in notes {
            studio.take(Input::Note(note), now);
        }
        studio.caution(now);
        studio
    }

    /// The first start says once what loud sound and long practice can do.
    pub fn caution(&mut self, now: Moment) {
        const TOLD: &str = "caution.told";
        if !self.keeper.settings().contains_key(TOLD) {
            let note = Note { text: text::CAUTION.to_owned(), hint: text::CAUTION_HINT.to_owned() };
            self.take(Input::Note(note), now);
            self.keeper.set(TOLD, "yes");
        }
    }

    /// A room whose devices are simulated, with its journal in `folder`, or none: for tests.
    #[must_use]
    pub fn simulated(mut sound: Sound, folder: Option<&Path>, now: Moment, zone: UtcOffset) -> Self {
        let keeper = folder.map_or_else(Keeper::forgetful, |folder| Keeper::open(folder, now, zone).0);
        let seat = sound.take_reader().map(Seat::here);
        Self::furnish(sound, Config::default(), (seat, Worker::here()), keeper, now, zone)
    }

    /// The same room with these MIDI pedals.
    #[must_use]
    pub fn with_pedals(self, pedals: Pedals) -> Self {
        Self { pedals, ..self }
    }

    fn furnish(
        sound: Sound,
        config: Config,
        (seat, worker): (Option<Seat>, Worker),
        keeper: Keeper,
        now: Moment,
        zone: UtcOffset,
    ) -> Self {
        let kept = keeper.settings();
        let recent = kept.get("recent").map(|list| list.lines().map(Source::from_argument).collect());
        let session = Session::new(settings::settings(&kept), zone, keeper.seconds_today(now, zone));
        let mut studio = Self {
            session,
            sound,
            config,
            pedals: Pedals::default(),
            controls: None,
            unsent: Vec::new(),
            seat,
            keeper,
            papers: None,
            recent: recent.unwrap_or_default(),
            page: None,
            hears_start: false,
            only_string: None,
            chords: Chords::new(zone),
            shapes: shapes::Shapes::default(),
            changes: changes::Changes::default(),
            looking: journal::Looking::default(),
            on_paper: guide::OnPaper::default(),
            handing: hand_over::HandingOver::default(),
            problems: Vec::new(),
            calibration: Calibration::default(),
            songs: Songs::new(worker),
            quits: false,
        };
        studio.take_guitar(kept.get("guitar").cloned(), now);
        // What hurt when last asked is not forgotten overnight.
        if let Some((Felt::Pain, at)) = studio.keeper.last_felt() {
            studio.take(Input::Hurt(PainFlag { at, overruled: None }), now);
        }
        studio
    }

    /// The lesson that was last on the stand.
    #[must_use]
    pub fn last_lesson(&self) -> Option<Source> {
        self.recent.first().cloned()
    }

    /// Whether a pass was ever played here; where nothing is kept nobody knows, and nobody is new.
    #[must_use]
    pub fn has_played(&self) -> bool {
        self.keeper.ask(|journal| journal.recent_passes(None, 1)).is_none_or(|passes| !passes.is_empty())
    }

    /// Somebody is new here: of a demo a few bars are enough to begin with. What somebody else asks for stays whole.
    pub fn welcome(&mut self, now: Moment) {
        if self.session.stage().is_some_and(|stage| matches!(stage.source, Source::Demo(_))) {
            self.take(Input::Welcome, now);
        }
    }

    /// Puts a lesson on the stand. What is wrong with it is told instead, and what was there stays.
    pub fn open_lesson(&mut self, source: Source, now: Moment) {
        self.problems.clear();
        if let Some(path) = source.report() {
            return self.read_report(path, now);
        }
        let text = match source.text() {
            Ok(text) => text,
            Err(unreadable) => return self.problem(unreadable.message, unreadable.hint, now),
        };
        if source.is_assignment() {
            return self.open_assignment(source, &text, now);
        }
        match read(&text) {
            Ok(read) => {
                let lesson = std::sync::Arc::new(read.lesson);
                self.put(Opened { source, lesson, hash: read.hash, assigned: None }, now);
            }
            Err(findings) => {
                let first = findings.first().map(ToString::to_string).unwrap_or_default();
                let name = source.to_argument();
                let more = format!("`sixrung check {name}` says all that is to be mended");
                self.problem(format!("{name}:{}", first.lines().next().unwrap_or_default()), more, now);
            }
        }
    }

    /// What was read goes onto the stand, and first into the list of the last ones.
    fn put(&mut self, opened: Opened, now: Moment) {
        self.recent.retain(|old| *old != opened.source);
        self.recent.insert(0, opened.source.clone());
        self.recent.truncate(RECENT);
        let list: Vec<_> = self.recent.iter().map(Source::to_argument).collect();
        self.keeper.set("recent", &list.join("\n"));
        self.show_page(None, now);
        self.take(Input::Opened(opened), now);
    }

    fn problem(&mut self, text: String, hint: String, now: Moment) {
        let note = Note { text, hint };
        self.problems.push(note.clone());
        self.take(Input::Note(note), now);
    }

    /// A wish of the player.
    pub fn wish(&mut self, intent: Intent, now: Moment) {
        self.take(Input::Intent(intent), now);
    }

    /// The switches stepped on since the last time.
    pub fn presses(&self) -> impl Iterator<Item = PedalPress> + '_ {
        std::iter::from_fn(|| self.pedals.next_press())
    }

    /// Everything that happened since the last time: called each frame.
    pub fn step(&mut self, now: Moment) {
        while let Some(event) = self.sound.next_event() {
            self.sound_event(event, now);
        }
        self.send_unsent();
        while let Some(report) = self.controls.as_mut().and_then(|(controls, _)| controls.poll()) {
            self.song_report(&report);
            self.take(Input::Report(report), now);
        }
        self.song_step(now);
        self.changes_step(now);
        for heard in self.seat.as_mut().map(Seat::heard).unwrap_or_default() {
            match heard {
                Heard::Measured(measured) => self.measured(measured, now),
                Heard::Tuned(sounding) if self.page == Some(Page::Shapes) => self.shape_string_heard(&sounding, now),
                Heard::Change(event) => self.change_heard(event, now),
                // They start what is on the stand, not what lies over it.
                Heard::FourStrokes if self.page.is_some() => {}
                heard => self.take(Input::Heard(heard), now),
            }
        }
        let over = self.session.pass_over(self.now(now));
        self.carry_out(over, now);
        self.listen_for_start(now);
        self.keeper.flush();
        if let Some(note) = self.keeper.trouble() {
            self.take(Input::Note(note), now);
        }
    }

    /// The ear hears four muted strokes only while they would start.
    fn listen_for_start(&mut self, now: Moment) {
        let hears = self.page.is_none() && self.session.strokes_start(self.now(now));
        if hears != self.hears_start {
            self.hears_start = hears;
            self.tell(Told::HearStart(hears));
        }
    }

    /// The session, to look at.
    #[must_use]
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// What the stand shows.
    #[must_use]
    pub fn view(&self, now: Moment) -> StandView {
        self.session.view(self.now(now))
    }

    /// The page over the stand, if one is open.
    #[must_use]
    pub fn page(&self) -> Option<Page> {
        self.page
    }

    /// Whether the player wants to close the program.
    #[must_use]
    pub fn quits(&self) -> bool {
        self.quits
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "frames from zero up")]
    fn now(&self, moment: Moment) -> Now {
        Now { moment, frame: self.sound.frame_now().unwrap_or(0.0).max(0.0) as u64 }
    }

    fn take(&mut self, input: Input, now: Moment) {
        let effects = self.session.update(input, self.now(now));
        self.carry_out(effects, now);
    }

    fn title(&self) -> String {
        self.session.stage().map(|stage| stage.lesson.title.clone()).unwrap_or_default()
    }

    fn tell(&mut self, told: Told) {
        if let Some(seat) = &mut self.seat {
            seat.tell(told);
        }
    }

    fn window(&mut self, intent: Intent, now: Moment) {
        match intent {
            Intent::OpenLesson(LessonSource::Demo(name)) => self.open_lesson(Source::from_argument(&name), now),
            Intent::OpenLesson(LessonSource::File(path)) => self.open_lesson(Source::File(path), now),
            Intent::OpenPage(page) => self.show_page(Some(page), now),
            Intent::ClosePage => self.show_page(None, now),
            Intent::Measure(measure) => self.measure(measure),
            Intent::OverruleCheck => self.overrule(now),
            Intent::Chords(wish) => self.chords_wish(wish, now),
            Intent::Shapes(wish) => self.shapes_wish(wish, now),
            Intent::Changes(wish) => self.changes_wish(wish, now),
            Intent::Journal(wish) => self.journal_wish(wish, now),
            Intent::Guide(wish) => self.guide_wish(wish, now),
            Intent::HandOver(wish) => self.hand_over_wish(wish, now),
            Intent::Song(wish) => self.song_wish(wish, now),
            Intent::ListenForString(string) => {
                self.only_string = string;
                self.tell(Told::Tune(Some(self.tune_to())));
            }
            Intent::ChooseOutput(id) => {
                settings::keep_output(&self.keeper, id.as_deref());
                self.reconfigure();
            }
            Intent::ChooseInput(choice) => {
                settings::keep_input(&self.keeper, &choice);
                self.reconfigure();
                if choice == InputChoice::None {
                    self.take(Input::Sound(SoundState { input: false, ..self.sound_state() }), now);
                }
            }
            Intent::SetBuffer(frames) => {
                self.keeper.set("buffer", &frames.to_string());
                self.reconfigure();
            }
            Intent::SetRoundTrip(ms) => {
                let state = SoundState { round_trip_ms: ms, ..self.sound_state() };
                if let Some(ms) = ms {
                    self.keep_found(FoundTrip { ms, spread_ms: 0.0 }, Measured::ByHand, now);
                }
                self.take(Input::Sound(state), now);
            }
            Intent::SetLook(look) => settings::keep_look(&self.keeper, look),
            Intent::SetKey(..) | Intent::SetPedal(..) | Intent::ResetKeys => {
                settings::keep_keys(&self.keeper, self.session.settings());
            }
            Intent::SetVolume(part, db) => settings::keep_volume(&self.keeper, part, db),
            Intent::SetStrings(strings) => settings::keep_strings(&self.keeper, strings),
            Intent::SetClick(choice) => settings::keep_click(&self.keeper, choice),
            Intent::HearFirst(hears_first) => settings::keep_hear_first(&self.keeper, hears_first),
            Intent::SetLevel(level) => settings::keep_level(&self.keeper, level),
            Intent::SetStrokesStart(wanted) => settings::keep_strokes_start(&self.keeper, wanted),
            Intent::Quit => self.quits = true,
            _ => {}
        }
    }

    fn reconfigure(&mut self) {
        self.config = settings::devices(&self.keeper.settings());
        self.sound.configure(self.config.clone());
    }
}
