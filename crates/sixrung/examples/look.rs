//! Draws the stand and its pages at the moments and sizes worth looking at, as pictures:
//! `cargo run -p sixrung --example look -- FOLDER`.

#[path = "../tests/sample/mod.rs"]
mod sample;

use std::path::Path;

use egui::vec2;
use egui_kittest::Harness;
use sixrung::pages::{PageView, page_ui};
use sixrung::stand::{HearingState, HearingView, Note, Pause, Phase, StandView, stand_ui};
use sixrung::theme::{Hand, Look, Sheet, install};

/// A picture: its name, the window in points, pixels a point, and what is in it.
type Picture = (&'static str, (f32, f32), f32, StandView, Option<PageView>);

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "look".to_owned());
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let only = std::env::args().nth(2).unwrap_or_default();
    for picture in pictures().into_iter().filter(|picture| picture.0.contains(&only)) {
        draw(&folder, picture);
    }
}

fn with(view: StandView, look: Look) -> StandView {
    StandView { look, ..view }
}

fn pictures() -> Vec<Picture> {
    const DRAWN: (f32, f32) = (1280.0, 800.0);
    let light = Look::default();
    let dark = Look { sheet: Sheet::Dark, ..light };
    let far = Look { distance_m: 1.5, ..light };
    let lost = Note {
        text: "The sound output went away. Nothing is lost.".to_owned(),
        hint: "plug it in again, or choose another under sound".to_owned(),
    };
    let no_microphone = StandView {
        hearing: HearingView { level: 0.0, state: HearingState::NoMicrophone },
        phase: Phase::SelfMark,
        cursor: None,
        ..sample::playing()
    };
    let paused =
        StandView { phase: Phase::Paused(Pause::OutputLost), cursor: None, notes: vec![lost], ..sample::playing() };
    let counting =
        StandView { phase: Phase::CountIn { beat: 3, of: 4 }, cursor: None, sounding: None, ..sample::playing() };
    let idle = StandView { phase: Phase::Idle, cursor: None, sounding: None, ..sample::playing() };
    let deaf = StandView { hearing: HearingView { level: 0.05, state: HearingState::CannotHear }, ..sample::playing() };
    vec![
        ("playing-light", DRAWN, 1.0, sample::playing(), None),
        ("playing-dark", DRAWN, 1.0, with(sample::playing(), dark), None),
        ("playing-contrast", DRAWN, 1.0, with(sample::playing(), Look { sheet: Sheet::ContrastDark, ..light }), None),
        ("playing-small", (960.0, 600.0), 1.0, sample::playing(), None),
        ("playing-hd", (1920.0, 1080.0), 1.0, sample::playing(), None),
        ("playing-4k", (1920.0, 1080.0), 2.0, with(sample::playing(), dark), None),
        ("playing-left", DRAWN, 1.0, with(sample::hard(), Look { hand: Hand::Left, ..light }), None),
        ("playing-scale3", DRAWN, 1.0, with(sample::playing(), Look { scale: 3.0, ..light }), None),
        ("playing-scale075", DRAWN, 1.0, with(sample::playing(), Look { scale: 0.75, ..light }), None),
        ("playing-1m", DRAWN, 1.0, with(sample::playing(), Look { distance_m: 0.8, ..light }), None),
        ("far-light", DRAWN, 1.0, with(sample::playing(), far), None),
        ("far-dark", DRAWN, 1.0, with(sample::playing(), Look { sheet: Sheet::Dark, ..far }), None),
        ("far-result", DRAWN, 1.0, with(sample::result(), far), None),
        ("sixteenths", DRAWN, 1.0, sample::sixteenths(), None),
        ("swing", DRAWN, 1.0, sample::swing(), None),
        ("result-light", DRAWN, 1.0, sample::result(), None),
        ("result-dark", DRAWN, 1.0, with(sample::result(), dark), None),
        ("result-small", (960.0, 600.0), 1.0, sample::result(), None),
        ("result-faults", DRAWN, 1.0, sample::faults(), None),
        ("result-faults-dark", (960.0, 600.0), 1.0, with(sample::faults(), dark), None),
        ("result-change", DRAWN, 1.0, sample::change(), None),
        ("marking", DRAWN, 1.0, no_microphone, None),
        ("paused", DRAWN, 1.0, paused, None),
        ("counting", DRAWN, 1.0, counting, None),
        ("idle", DRAWN, 1.0, idle, None),
        ("deaf", DRAWN, 1.0, deaf, None),
        ("empty", DRAWN, 1.0, StandView::default(), None),
        ("page-lessons", DRAWN, 1.0, sample::playing(), Some(sample::pages::lessons())),
        ("page-sections", DRAWN, 1.0, sample::playing(), Some(sample::pages::sections())),
        ("page-sound", DRAWN, 1.0, sample::playing(), Some(sample::pages::sound())),
        ("page-sound-small", (960.0, 600.0), 1.0, with(sample::playing(), dark), Some(sample::pages::sound())),
        ("page-parts", DRAWN, 1.0, sample::playing(), Some(sample::pages::parts())),
        ("page-parts-dark", (960.0, 600.0), 1.0, with(sample::playing(), dark), Some(sample::pages::parts())),
        ("page-calibrated", DRAWN, 1.0, sample::playing(), Some(sample::pages::calibrated())),
        ("page-calibrating", DRAWN, 1.0, sample::playing(), Some(sample::pages::calibrating())),
        ("page-tuner", DRAWN, 1.0, sample::playing(), Some(sample::pages::tuner())),
        ("page-tuner-in", DRAWN, 1.0, with(sample::playing(), dark), Some(sample::pages::tuner_hears(0.8))),
        ("page-tuner-small", (960.0, 600.0), 1.0, sample::playing(), Some(sample::pages::tuner_hears(31.0))),
        ("page-chords-fingers", DRAWN, 1.0, sample::playing(), Some(sample::pages::chords_fingers())),
        ("page-chords", DRAWN, 1.0, sample::playing(), Some(sample::pages::chords_slow())),
        ("page-chords-dark", DRAWN, 1.0, with(sample::playing(), dark), Some(sample::pages::chords_in_turn())),
        ("page-chords-small", (960.0, 600.0), 1.0, sample::playing(), Some(sample::pages::chords_in_turn())),
        ("page-chords-done", DRAWN, 1.0, sample::playing(), Some(sample::pages::chords_done())),
        ("page-song", DRAWN, 1.0, sample::playing(), Some(sample::pages::song())),
        ("page-song-dark", DRAWN, 1.0, with(sample::playing(), dark), Some(sample::pages::song())),
        ("page-song-small", (960.0, 600.0), 1.0, sample::playing(), Some(sample::pages::song())),
        ("page-song-empty", DRAWN, 1.0, sample::playing(), Some(sample::pages::song_empty())),
        ("page-song-reading", DRAWN, 1.0, with(sample::playing(), dark), Some(sample::pages::song_reading())),
        ("page-song-unread", DRAWN, 1.0, sample::playing(), Some(sample::pages::song_unread())),
        ("page-look", DRAWN, 1.0, sample::playing(), Some(sample::pages::look())),
    ]
}

fn draw(folder: &str, (name, size, pixels, view, page): Picture) {
    let app = move |ui: &mut egui::Ui| {
        let mut intents = Vec::new();
        let window = ui.ctx().content_rect();
        let ui = &mut ui.new_child(egui::UiBuilder::new().max_rect(window));
        ui.set_clip_rect(window);
        match &page {
            Some(page) => page_ui(ui, page, &view, &mut intents),
            None => stand_ui(ui, &view, &mut intents),
        }
    };
    let mut harness = Harness::builder()
        .with_size(vec2(size.0, size.1))
        .with_pixels_per_point(pixels)
        .with_context_setup(install)
        .wgpu()
        .build_ui(app);
    harness.run_steps(3);
    let picture = harness.render().expect("a renderer is there");
    picture.save(Path::new(folder).join(format!("{name}.png"))).expect("the folder can be written");
}
