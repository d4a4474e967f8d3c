//! The stand and its pages as a player meets them: names for everything, wishes for every press and key, at every size.

mod sample;

use std::cell::RefCell;
use std::rc::Rc;

use egui::{Key, Modifiers, UiBuilder, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use sixrung::commands::{COMMANDS, read_keys};
use sixrung::measuring::Measure;
use sixrung::pages::{PageView, page_ui};
use sixrung::stand::{
    ChordsWish, ClickChoice, HearAgain, HearingState, HearingView, InputChoice, Intent, LessonSource, Note, Page, Part,
    Phase, SectionChoice, SongWish, StandView, Voice, stand_ui,
};
use sixrung::theme::{Hand, Look, Sheet, install};
use sixrung_audio::{ClickSound, Strings};
use sixrung_timeline::{Clicks, Thinned};

/// A window on a view, and what was asked for in it.
struct Window {
    harness: Harness<'static>,
    intents: Rc<RefCell<Vec<Intent>>>,
}

fn open(size: (f32, f32), view: StandView, page: Option<PageView>) -> Window {
    let intents = Rc::new(RefCell::new(Vec::new()));
    let asked = Rc::clone(&intents);
    let app = move |ui: &mut egui::Ui| {
        let window = ui.ctx().content_rect();
        let ui = &mut ui.new_child(UiBuilder::new().max_rect(window));
        ui.set_clip_rect(window);
        let asked = &mut *asked.borrow_mut();
        read_keys(ui.ctx(), &view, page.as_ref().map(PageView::page), asked);
        match &page {
            Some(page) => page_ui(ui, page, &view, asked),
            None => stand_ui(ui, &view, asked),
        }
    };
    let mut harness = Harness::builder().with_size(vec2(size.0, size.1)).with_context_setup(install).build_ui(app);
    harness.run_steps(2);
    Window { harness, intents }
}

const DRAWN: (f32, f32) = (1280.0, 800.0);

fn check_press(view: StandView, page: Option<PageView>, name: &str, expected: &[Intent]) {
    let mut window = open(DRAWN, view, page);
    window.harness.get_by_label(name).click();
    window.harness.run_steps(2);
    assert_eq!(*window.intents.borrow(), expected, "{name}");
}

#[test]
fn every_control_of_the_stand_asks_for_its_own() {
    let idle = StandView { phase: Phase::Idle, ..sample::playing() };
    let marking = StandView { phase: Phase::SelfMark, ..sample::playing() };
    let noted = StandView {
        notes: vec![Note { text: "The microphone went away.".to_owned(), hint: "Plug it in.".to_owned() }],
        ..sample::playing()
    };
    let rows = [
        (sample::playing(), "Pause", Intent::Forward),
        (idle, "Start", Intent::Forward),
        (sample::playing(), "Lantern on the Quay, choose a lesson", Intent::OpenPage(Page::Lessons)),
        (
            sample::playing(),
            "Verse · bars 1–8 · plain, Bm7 for Bm, choose section and arrangement",
            Intent::OpenPage(Page::Sections),
        ),
        (sample::playing(), "Keys: keys, pedals and appearance", Intent::OpenPage(Page::Look)),
        (sample::playing(), "hears you, sound settings", Intent::OpenPage(Page::Sound)),
        (sample::playing(), "tempo 103, 82 per cent", Intent::ChooseRung(3)),
        (sample::playing(), "tempo 76, 60 per cent, held", Intent::ChooseRung(0)),
        (sample::result(), "Loop bars 4 and 5", Intent::TakeProposal),
        (sample::result(), "As proposed", Intent::Forward),
        (sample::result(), "hear bar 5, both", Intent::HearAgain(HearAgain::Voice(Voice::Both))),
        (sample::result(), "hear bar 5, slowly", Intent::HearAgain(HearAgain::Slowly)),
        (sample::faults(), sixrung::text::chords::OFFER, Intent::OpenPage(Page::Chords)),
        (marking.clone(), "Clean", Intent::MarkClean),
        (marking, "Not clean yet", Intent::MarkNotClean),
        (noted, "The microphone went away. Plug it in. Press to put it away.", Intent::DismissNote(0)),
        (StandView::default(), "Choose a lesson", Intent::OpenPage(Page::Lessons)),
    ];
    for (view, name, expected) in rows {
        check_press(view, None, name, &[expected]);
    }
}

#[test]
fn every_control_of_the_pages_asks_for_its_own() {
    let usual = ClickChoice::default();
    let thinned = ClickChoice { clicks: Clicks { thinned: Thinned::EvenOnly, ..usual.clicks }, ..usual };
    let even = ClickChoice { clicks: Clicks { even: true, ..thinned.clicks }, ..thinned };
    let demo = |title: &str| Intent::OpenLesson(LessonSource::Demo(title.to_owned()));
    let look = Look::default();
    let rows = [
        (sample::pages::lessons(), "Ferry Lullaby", demo("Ferry Lullaby")),
        (sample::pages::lessons(), "A lesson of mine", demo("A lesson of mine")),
        (sample::pages::lessons(), "Back to the stand", Intent::ClosePage),
        (sample::pages::sections(), "Chorus", Intent::ChooseSection(SectionChoice::Section(1))),
        (sample::pages::sections(), "Whole piece", Intent::ChooseSection(SectionChoice::Whole)),
        (sample::pages::sections(), "full", Intent::ChooseArrangement(1)),
        (sample::pages::sections(), "All bars", Intent::AllBars),
        (sample::pages::sound(), "USB headset", Intent::ChooseOutput(Some("USB headset".to_owned()))),
        (sample::pages::sound(), "USB microphone", Intent::ChooseInput(InputChoice::Device("usb".to_owned()))),
        (sample::pages::sound(), "512 · 11 ms", Intent::SetBuffer(512)),
        (sample::pages::sound(), "Find it again", Intent::SetRoundTrip(None)),
        (sample::pages::sound(), "Four muted strokes start", Intent::SetStrokesStart(false)),
        (sample::pages::sound(), "Tuner", Intent::OpenPage(Page::Tuner)),
        (sample::pages::sound(), "Your own recording", Intent::OpenPage(Page::Song)),
        (sample::pages::song(), "Play from the cursor (Space)", Intent::Song(SongWish::Play)),
        (sample::pages::song(), "Bar 1 begins here (B)", Intent::Song(SongWish::Bar1)),
        (
            sample::pages::song(),
            "Take the beats I found: 124.0 a minute, with their drift",
            Intent::Song(SongWish::TakeFound),
        ),
        (sample::pages::song(), "Take the tempo you tapped: 124.3", Intent::Song(SongWish::TakeTapped)),
        (sample::pages::song(), "No clicks on its beats (V)", Intent::Song(SongWish::Clicks)),
        (sample::pages::song(), "Stop that", Intent::Song(SongWish::Cancel)),
        (sample::pages::song_reading(), "Stop that", Intent::Song(SongWish::Cancel)),
        (sample::pages::song_unread(), "Try again", Intent::Song(SongWish::Again)),
        (
            sample::pages::chords_slow(),
            "G, learned today. Press to play it for me.",
            Intent::Chords(ChordsWish::Only(1)),
        ),
        (sample::pages::chords_done(), "Forget all I learned of this guitar", Intent::Chords(ChordsWish::Forget)),
        (sample::pages::chords_done(), "the nylon one", Intent::Chords(ChordsWish::Guitar("the nylon one".to_owned()))),
        (
            sample::pages::sections(),
            "Let me hear your chords, so that I can name single strings",
            Intent::OpenPage(Page::Chords),
        ),
        (sample::pages::sound(), "Calibrate and check", Intent::OpenPage(Page::Calibrate)),
        (sample::pages::sound(), "Parts and click", Intent::OpenPage(Page::Parts)),
        (sample::pages::parts(), "mute, guitar", Intent::Mute(Part::Guitar)),
        (sample::pages::parts(), "solo, brushes", Intent::HearOnly(Part::Brushes)),
        (sample::pages::parts(), "a small bell", Intent::SetClick(ClickChoice { sound: ClickSound::Bell, ..thinned })),
        (sample::pages::parts(), "one sounds like the others", Intent::SetClick(even)),
        (sample::pages::parts(), "nylon strings", Intent::SetStrings(Strings::Nylon)),
        (sample::pages::parts(), "on every beat", Intent::SetClick(ClickChoice::default())),
        (sample::pages::calibrated(), "Measure it", Intent::Measure(Measure::Loopback)),
        (sample::pages::calibrated(), "Check my sound", Intent::Measure(Measure::Strums)),
        (sample::pages::calibrating(), "Back to the stand", Intent::ClosePage),
        (sample::pages::calibrated(), "Judge me all the same", Intent::OverruleCheck),
        (sample::pages::tuner(), "string 6, E2, 82.4 hertz", Intent::ListenForString(Some(0))),
        (sample::pages::look(), "dark", Intent::SetLook(Look { sheet: Sheet::Dark, ..look })),
        (sample::pages::look(), "the left hand strumming", Intent::SetLook(Look { hand: Hand::Left, ..look })),
    ];
    for (page, name, expected) in rows {
        check_press(sample::playing(), Some(page), name, &[expected]);
    }
}

#[test]
fn what_is_only_looked_at_is_read_aloud_too() {
    let window = open(DRAWN, sample::playing(), None);
    for words in [
        "now D, strings x x 0 2 3 2",
        "next A, strings x 0 2 2 2 0, in 3 beats",
        "then G, strings 3 2 0 0 3 3",
        "strokes: 1 D, & –, 2 D, & U, 3 –, & U, 4 D, & U",
        "tempo 93, rung 3 of 6, 2 of 3 clean passes. one more clean pass to 103",
        "bars 1 to 8 of 8",
    ] {
        window.harness.get_by_label(words);
    }
    let window = open(DRAWN, sample::result(), None);
    window.harness.get_by_label("44 in time, 3 late, 0 early, 1 missed, 0 extra");
    let window = open(DRAWN, sample::faults(), None);
    window.harness.get_by_label(
        "44 in time, 3 late, 0 early, 1 missed, 0 extra; Bm7 string 5 dead; G heard Em; D string 6 not silent; \
         D string 2 another note",
    );
}

#[test]
fn nothing_that_takes_the_focus_is_without_a_name() {
    let mut views = vec![None, Some(sample::pages::lessons()), Some(sample::pages::sections())];
    views.extend([
        Some(sample::pages::sound()),
        Some(sample::pages::tuner()),
        Some(sample::pages::parts()),
        Some(sample::pages::calibrated()),
        Some(sample::pages::look()),
    ]);
    views.extend([Some(sample::pages::chords_fingers()), Some(sample::pages::chords_in_turn())]);
    for page in views {
        let window = open(DRAWN, sample::playing(), page);
        let focusable = window
            .harness
            .root()
            .children_recursive()
            .filter(|node| node.accesskit_node().data().supports_action(egui::accesskit::Action::Focus));
        let names: Vec<_> = focusable.map(|node| node.accesskit_node().label().unwrap_or_default()).collect();
        assert!(names.len() > 5, "{names:?}");
        assert!(names.iter().all(|name| !name.is_empty()), "{names:?}");
    }
}

#[test]
fn a_drag_along_the_bar_map_picks_bars_and_a_volume_follows_the_pointer() {
    let mut window = open(DRAWN, sample::playing(), None);
    let map = window.harness.get_by_label("bars 1 to 8 of 8").rect();
    let at = |share: f32| egui::pos2(map.left() + map.width() * share, map.center().y);
    window.harness.drag_at(at(0.3));
    window.harness.step();
    window.harness.hover_at(at(0.45));
    window.harness.step();
    window.harness.drop_at(at(0.55));
    window.harness.run_steps(2);
    assert_eq!(*window.intents.borrow(), [Intent::ChooseBars(2..5)]);

    let mut window = open(DRAWN, sample::playing(), None);
    let rail = window.harness.get_by_label("click").rect();
    window.harness.drag_at(rail.right_center());
    window.harness.step();
    window.harness.drop_at(rail.right_center());
    window.harness.run_steps(2);
    let intents = window.intents.borrow();
    assert!(matches!(intents.first(), Some(Intent::SetVolume(Part::Click, db)) if *db > 5.9), "{intents:?}");
}

#[test]
fn every_key_in_the_table_reaches_the_stand() {
    for command in COMMANDS {
        for shortcut in command.keys {
            let view = StandView { phase: Phase::SelfMark, ..sample::result() };
            let expected = command.id.intent(&view, None);
            let mut window = open(DRAWN, view, None);
            let modifiers = if shortcut.with_command { Modifiers::COMMAND } else { Modifiers::NONE };
            window.harness.key_press_modifiers(modifiers, shortcut.key);
            window.harness.run_steps(2);
            assert!(expected.is_some(), "{:?} means something here", command.id);
            assert_eq!(window.intents.borrow().first().cloned(), expected, "{shortcut:?}");
        }
    }
}

#[test]
fn a_pedal_held_down_acts_once() {
    let mut window = open(DRAWN, sample::playing(), None);
    for repeat in [false, true, true] {
        let modifiers = Modifiers::NONE;
        let event = egui::Event::Key { key: Key::PageDown, physical_key: None, pressed: true, repeat, modifiers };
        window.harness.event(event);
        window.harness.step();
    }
    assert_eq!(*window.intents.borrow(), [Intent::Forward]);
}

#[test]
fn space_presses_the_control_that_has_the_focus_and_nothing_else() {
    let mut window = open(DRAWN, sample::playing(), None);
    window.harness.get_by_label("Keys: keys, pedals and appearance").focus();
    window.harness.run_steps(2);
    window.harness.key_press(Key::Space);
    window.harness.run_steps(2);
    assert_eq!(*window.intents.borrow(), [Intent::OpenPage(Page::Look)]);
}

#[test]
fn a_file_s_name_can_be_typed_and_its_letters_are_no_commands() {
    let mut window = open(DRAWN, sample::playing(), Some(sample::pages::lessons()));
    window.harness.get_by_label("where the lesson file is").focus();
    window.harness.run_steps(2);
    window.harness.get_by_label("where the lesson file is").type_text("mine/tsalm.lesson.ron");
    window.harness.run_steps(2);
    window.harness.key_press(Key::T);
    window.harness.run_steps(2);
    assert_eq!(*window.intents.borrow(), []);
    window.harness.key_press(Key::Enter);
    window.harness.run_steps(2);
    let file = LessonSource::File("mine/tsalm.lesson.ron".into());
    assert_eq!(*window.intents.borrow(), [Intent::OpenLesson(file)]);
}

#[test]
fn a_recording_s_place_and_its_tempo_can_be_typed() {
    let rows = [
        (sample::pages::song_empty(), "where the recording is", "mine/a.mp3", SongWish::Open("mine/a.mp3".into())),
        (sample::pages::song(), "tempo of the recording", "123,5", SongWish::Tempo(123.5)),
    ];
    for (page, field, typed, wanted) in rows {
        let mut window = open(DRAWN, sample::playing(), Some(page));
        window.harness.get_by_label(field).focus();
        window.harness.run_steps(2);
        window.harness.get_by_label(field).type_text(typed);
        window.harness.run_steps(2);
        window.harness.key_press(Key::Enter);
        window.harness.run_steps(2);
        assert_eq!(*window.intents.borrow(), [Intent::Song(wanted)]);
    }
}

#[test]
fn every_view_fits_every_window_scale_and_distance() {
    let deaf = HearingView { level: 2.0, state: HearingState::CannotHear };
    let views = [
        sample::playing(),
        sample::hard(),
        sample::sixteenths(),
        sample::swing(),
        sample::result(),
        sample::change(),
        StandView { phase: Phase::SelfMark, hearing: deaf, ..sample::playing() },
        StandView { phase: Phase::CountIn { beat: 7, of: 8 }, cursor: None, ..sample::playing() },
        StandView::default(),
    ];
    for size in [(960.0, 600.0), (1280.0, 800.0), (3840.0, 2160.0), (320.0, 240.0)] {
        for (scale, distance_m) in [(0.75, 0.5), (1.0, 0.6), (3.0, 0.6), (1.0, 1.5), (2.0, 3.0)] {
            for view in &views {
                let look = Look { scale, distance_m, ..Look::default() };
                open(size, StandView { look, ..view.clone() }, None);
            }
            let chords = sample::pages::chords_in_turn();
            let song = sample::pages::song();
            for page in [sample::pages::lessons(), sample::pages::sound(), chords, song, sample::pages::look()] {
                let look = Look { scale, distance_m, ..Look::default() };
                open(size, StandView { look, ..sample::playing() }, Some(page));
            }
        }
    }
}
