//! The window: reads keys, draws what the studio shows, hands wishes back.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use eframe::glow::HasContext as _;
use eframe::{egui, glow};
use sixrung_practice::{Moment, UtcOffset};

use crate::cli::WindowArgs;
use crate::library::{DEMOS, Source};
use crate::pages::{PageView, page_ui};
use crate::stand::{Intent, LessonSource, Page, SongWish, stand_ui};
use crate::studio::Studio;

/// While something moves, frames come this far apart: 60 a second.
const MOVING: Duration = Duration::from_micros(16_667);
/// Where the processor draws the screen, this far: sound goes first, and the cursor stays within 45 ms of it.
const MOVING_SLOWLY: Duration = Duration::from_millis(40);
/// OpenGL renderers that are no graphics card, as Mesa and Google name theirs.
const DRAWN_BY_PROCESSOR: [&str; 3] = ["llvmpipe", "softpipe", "SwiftShader"];
/// While nothing moves, so often is looked for what happened; what the ear has to show wakes the window at once.
const RESTING: Duration = Duration::from_secs(1);
/// The window when new: the drawn size.
const SIZE: [f32; 2] = [1280.0, 800.0];
/// The smallest window everything fits into.
const LEAST: [f32; 2] = [960.0, 600.0];
/// How the names of recordings end.
const SOUND_FILES: [&str; 6] = ["wav", "flac", "ogg", "oga", "mp3", "wave"];
/// Devices come and go while their page is open: asked so often.
const PAGE_LIFE: Duration = Duration::from_secs(2);

/// Opens the window and stays until it is closed.
///
/// # Errors
/// What is missing, and what works without it, when there is no display to open a window on.
pub fn open(args: &WindowArgs) -> Result<(), String> {
    let folder = args.data.clone().or_else(data_folder).ok_or_else(no_folder)?;
    let lesson = args.lesson.clone();
    // Files for people lie where people look for them, unless everything is to lie in one place.
    let papers = if args.data.is_none() { papers_folder() } else { None };
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Sixrung")
            .with_app_id("sixrung")
            .with_inner_size(SIZE)
            .with_min_inner_size(LEAST),
        renderer: eframe::Renderer::Glow,
        ..eframe::NativeOptions::default()
    };
    eframe::run_native(
        "sixrung",
        options,
        Box::new(move |context| {
            let window = context.egui_ctx.clone();
            let resting = Arc::new(AtomicBool::new(true));
            let rests = Arc::clone(&resting);
            // While something moves, frames come anyway, and more of them would only take time from the sound.
            let wake = move || {
                if rests.load(Ordering::Relaxed) {
                    window.request_repaint();
                }
            };
            let studio = Studio::open(&folder, moment(), zone(), wake);
            let studio = papers.into_iter().fold(studio, Studio::with_papers);
            let app = App::new(&context.egui_ctx, studio, lesson.as_deref());
            Ok(Box::new(App { moving: pace(context.gl.as_deref()), resting, ..app }))
        }),
    )
    .map_err(|error| no_window(&error.to_string()))
}

/// Why there is no window, and the commands that need none, under the name this program was started by.
fn no_window(error: &str) -> String {
    // The window library tells where in its own source it noticed: of no use to a player.
    let why = error.rsplit(".rs:").next().and_then(|rest| rest.split_once(": ")).map_or(error, |(_, why)| why);
    let program = std::env::args().next().unwrap_or_else(|| "sixrung".to_owned());
    format!(
        "error: the window can't be opened: {why}\nhint: it needs a display (X11 or Wayland) with OpenGL; without one, \
         `{program} render lantern-on-the-quay --percent 60 --out lantern.wav` plays the part into a file, and \
         `{program} judge --help` says how a recording is judged"
    )
}

fn no_folder() -> String {
    "error: there is no home folder to keep the journal in\nhint: name one with --data DIR".to_owned()
}

pub(crate) fn data_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "sixrung").map(|folders| folders.data_dir().to_path_buf())
}

fn papers_folder() -> Option<PathBuf> {
    let user = directories::UserDirs::new()?;
    Some(user.document_dir().unwrap_or_else(|| user.home_dir()).join("Sixrung"))
}

/// Seconds since the Unix epoch, by the system's clock.
pub(crate) fn moment() -> Moment {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    Moment(i64::try_from(since.as_secs()).unwrap_or(i64::MAX))
}

pub(crate) fn zone() -> UtcOffset {
    UtcOffset(chrono::Local::now().offset().local_minus_utc())
}

/// The window's own state: a page that takes a while to fill is kept for a moment.
pub struct App {
    studio: Studio,
    page: Option<(PageView, Instant)>,
    /// How far apart frames come while something moves.
    moving: Duration,
    /// Whether nothing moves, for the thread that listens.
    resting: Arc<AtomicBool>,
}

impl App {
    /// A window on `studio`, with a lesson by name or path, or the last one, or the first demo.
    #[must_use]
    pub fn new(context: &egui::Context, mut studio: Studio, lesson: Option<&str>) -> Self {
        crate::theme::install(context);
        let first = Source::Demo(DEMOS[0].0);
        let is_first_time = lesson.is_none() && !studio.has_played();
        let source =
            lesson.map(Source::from_argument).or_else(|| studio.last_lesson()).unwrap_or_else(|| first.clone());
        // A report is read over whatever lesson was last on the stand.
        let (lesson, report) = match source.report() {
            Some(_) => (studio.last_lesson().unwrap_or_else(|| first.clone()), Some(source)),
            None => (source, None),
        };
        studio.open_lesson(lesson, moment());
        if studio.session().stage().is_none() {
            studio.open_lesson(first, moment());
        }
        if let Some(report) = report {
            studio.open_lesson(report, moment());
        }
        if is_first_time {
            studio.welcome(moment());
        }
        Self { studio, page: None, moving: MOVING, resting: Arc::default() }
    }

    /// One frame: what happened, what is wished, what is shown.
    pub fn frame(&mut self, ui: &mut egui::Ui, now: Moment) {
        self.studio.step(now);
        let mut intents = Vec::new();
        let view = self.studio.view(now);
        let page = self.studio.page();
        crate::commands::read_keys(ui.ctx(), &view, page, &mut intents);
        crate::commands::read_pedals(ui.ctx(), self.studio.presses(), &view, page, &mut intents);
        dropped_files(ui.ctx(), page, &mut intents);
        self.refresh_page(now);
        match &self.page {
            Some((page, _)) => page_ui(ui, page, &view, &mut intents),
            None => stand_ui(ui, &view, &mut intents),
        }
        if !intents.is_empty() {
            for intent in intents {
                self.wish(intent, now);
            }
            ui.ctx().request_repaint();
        }
        if self.studio.quits() {
            ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
        }
        let moving = self.studio.session().is_playing() || self.studio.song_moves();
        self.resting.store(!moving, Ordering::Relaxed);
        ui.ctx().request_repaint_after(if moving { self.moving } else { RESTING });
    }

    /// The room, for tests to look at.
    #[must_use]
    pub fn studio(&self) -> &Studio {
        &self.studio
    }

    /// A wish that came by no key: from a test, or a desktop's own menu.
    pub fn wish(&mut self, intent: Intent, now: Moment) {
        self.page = None;
        self.studio.wish(intent, now);
    }

    fn refresh_page(&mut self, now: Moment) {
        let stale =
            |(page, made): &(PageView, Instant)| Some(page.page()) != self.studio.page() || made.elapsed() > PAGE_LIFE;
        if self.page.as_ref().is_none_or(stale) {
            self.page = self.studio.page_view(now).map(|page| (page, Instant::now()));
        }
        if let Some((PageView::Sound(sound), _)) = &mut self.page {
            sound.hearing = self.studio.session().hearing();
        }
        if let Some((PageView::Calibrate(page), _)) = &mut self.page {
            *page = self.studio.calibrate_page();
        }
        if let Some((PageView::Tuner(tuner), _)) = &mut self.page {
            *tuner = self.studio.tuner_page();
        }
        if let Some((PageView::Chords(chords), _)) = &mut self.page {
            **chords = self.studio.chords_page(now);
        }
        if let Some((PageView::Changes(changes), _)) = &mut self.page {
            **changes = self.studio.changes_page();
        }
        if let Some((PageView::Shapes(shapes), _)) = &mut self.page {
            **shapes = self.studio.shapes_page(now);
        }
        if let Some((PageView::Song(song), _)) = &mut self.page {
            **song = self.studio.song_page();
        }
    }
}

/// How far apart frames come while something moves.
#[expect(unsafe_code, reason = "asking OpenGL anything is; the context is the window's own and current")]
fn pace(gl: Option<&glow::Context>) -> Duration {
    let name = gl.map(|gl| unsafe { gl.get_parameter_string(glow::RENDERER) }).unwrap_or_default();
    if DRAWN_BY_PROCESSOR.iter().any(|renderer| name.contains(renderer)) { MOVING_SLOWLY } else { MOVING }
}

/// A lesson dropped on the window is opened; a recording belongs to the lesson on the stand. On the recording's own
/// page, everything is one.
fn dropped_files(context: &egui::Context, page: Option<Page>, intents: &mut Vec<Intent>) {
    let dropped = context.input(|input| input.raw.dropped_files.clone());
    let paths = dropped.iter().map(|file| file.path().to_path_buf());
    let is_sound = |path: &Path| {
        let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
        SOUND_FILES.iter().any(|known| ending == *known)
    };
    intents.extend(paths.map(|path| {
        if page == Some(Page::Song) || is_sound(&path) {
            Intent::Song(SongWish::Open(path))
        } else {
            Intent::OpenLesson(LessonSource::File(path))
        }
    }));
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.frame(ui, moment());
    }
}
