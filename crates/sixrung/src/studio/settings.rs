//! Settings as the journal keeps them: short texts under short names.

use std::collections::BTreeMap;
use std::str::FromStr;

use sixrung_audio::{ClickSound, Strings};
use sixrung_devices::{Choice, Config, InputChoice as Microphone, OutputChoice};
use sixrung_lesson::Level;
use sixrung_timeline::{Clicks, Division, Thinned};

use super::keeper::Keeper;
use crate::commands::keymap::KeyMap;
use crate::commands::pedalmap::PedalMap;
use crate::session::Settings;
use crate::stand::{ClickChoice, InputChoice, Part, Volumes};
use crate::theme::{Hand, Look, Motion, Sheet};

/// In the journal: no microphone wanted, or the system's own choice.
const NONE: &str = "none";
const DEFAULT: &str = "default";
/// Where keys and pedals of the player's own are kept.
const KEYS: &str = "keys";
const PEDALS: &str = "pedals";
/// Whether the part is played first at a new rung.
const HEAR_FIRST: &str = "hear.first";
/// Whether four muted strokes start.
const STROKES_START: &str = "start.strokes";

/// Reads what the journal kept; what is missing or odd is as it is when new.
pub(super) fn settings(kept: &BTreeMap<String, String>) -> Settings {
    let look = Look::default();
    let volumes = Volumes::default();
    let clamp_db = |db: f32| db.clamp(Volumes::SILENT_DB, Volumes::LOUDEST_DB);
    Settings {
        look: Look {
            sheet: match kept.get("look.sheet").map(String::as_str) {
                Some("dark") => Sheet::Dark,
                Some("contrast light") => Sheet::ContrastLight,
                Some("contrast dark") => Sheet::ContrastDark,
                _ => Sheet::Light,
            },
            scale: number(kept, "look.scale", look.scale).clamp(Look::MIN_SCALE, Look::MAX_SCALE),
            distance_m: number(kept, "look.distance", look.distance_m)
                .clamp(Look::MIN_DISTANCE_M, Look::MAX_DISTANCE_M),
            points_per_mm: number(kept, "look.points_per_mm", look.points_per_mm)
                .clamp(Look::MIN_POINTS_PER_MM, Look::MAX_POINTS_PER_MM),
            hand: if kept.get("look.hand").is_some_and(|hand| hand == "left") { Hand::Left } else { Hand::Right },
            motion: if kept.get("look.motion").is_some_and(|motion| motion == "reduced") {
                Motion::Reduced
            } else {
                Motion::Full
            },
        },
        keys: kept.get(KEYS).map(|text| KeyMap::from_text(text)).unwrap_or_default(),
        pedals: kept.get(PEDALS).map(|text| PedalMap::from_text(text)).unwrap_or_default(),
        volumes: Volumes {
            click_db: clamp_db(number(kept, "volume.click", volumes.click_db)),
            guitar_db: clamp_db(number(kept, "volume.guitar", volumes.guitar_db)),
            song_db: clamp_db(number(kept, "volume.song", volumes.song_db)),
            bass_db: clamp_db(number(kept, "volume.bass", volumes.bass_db)),
            brushes_db: clamp_db(number(kept, "volume.brushes", volumes.brushes_db)),
            master_db: clamp_db(number(kept, "volume.master", volumes.master_db)),
            ..volumes
        },
        click: click(kept),
        strings: if kept.get("guitar.strings").is_some_and(|strings| strings == "nylon") {
            Strings::Nylon
        } else {
            Strings::Steel
        },
        heard_on_request: kept.get(HEAR_FIRST).is_some_and(|word| word == "no"),
        level: match kept.get("level").map(String::as_str) {
            Some("beginner") => Some(Level::Beginner),
            Some("improver") => Some(Level::Improver),
            Some("advanced") => Some(Level::Advanced),
            _ => None,
        },
        strokes_start: number(kept, STROKES_START, false),
        offered_chords: kept.contains_key("chords.offered"),
    }
}

fn click(kept: &BTreeMap<String, String>) -> ClickChoice {
    let usual = ClickChoice::default();
    let word = |key: &str| kept.get(key).map_or("", String::as_str);
    let is = |key: &str, otherwise: bool| number(kept, key, otherwise);
    ClickChoice {
        sound: match word("click.sound") {
            "bell" => ClickSound::Bell,
            "tick" => ClickSound::Tick,
            _ => usual.sound,
        },
        clicks: Clicks {
            thinned: match word("click.thinned") {
                "first" => Thinned::FirstOnly,
                "even" => Thinned::EvenOnly,
                "silent bars" => Thinned::SilentBars { heard: 1, silent: 1 },
                _ => usual.clicks.thinned,
            },
            division: match word("click.division") {
                "2" => Division::Two,
                "3" => Division::Three,
                "4" => Division::Four,
                _ => usual.clicks.division,
            },
            even: is("click.even", usual.clicks.even),
            count_rises: is("click.rising", usual.clicks.count_rises),
        },
    }
}

pub(super) fn keep_strings(keeper: &Keeper, strings: Strings) {
    keeper.set("guitar.strings", if strings == Strings::Nylon { "nylon" } else { "steel" });
}

pub(super) fn keep_click(keeper: &Keeper, ClickChoice { sound, clicks }: ClickChoice) {
    let sound = match sound {
        ClickSound::Wood => "wood",
        ClickSound::Bell => "bell",
        ClickSound::Tick => "tick",
    };
    let thinned = match clicks.thinned {
        Thinned::Not => "no",
        Thinned::FirstOnly => "first",
        Thinned::EvenOnly => "even",
        Thinned::SilentBars { .. } => "silent bars",
    };
    let division = match clicks.division {
        Division::WhereSlow => "1",
        Division::Two => "2",
        Division::Three => "3",
        Division::Four => "4",
    };
    let kept = [
        ("click.sound", sound),
        ("click.thinned", thinned),
        ("click.division", division),
        ("click.even", if clicks.even { "true" } else { "false" }),
        ("click.rising", if clicks.count_rises { "true" } else { "false" }),
    ];
    for (key, word) in kept {
        keeper.set(key, word);
    }
}

fn number<T: FromStr>(kept: &BTreeMap<String, String>, key: &str, otherwise: T) -> T {
    kept.get(key).and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Which devices to open.
pub(crate) fn devices(kept: &BTreeMap<String, String>) -> Config {
    let choice = |key: &str| match kept.get(key).map(String::as_str) {
        None | Some(DEFAULT) => Choice::Default,
        Some(id) => Choice::Id(id.to_owned()),
    };
    let wants_input = kept.get("input").is_none_or(|input| input != NONE);
    let config = Config::default();
    Config {
        output: OutputChoice::Device(choice("output")),
        input: wants_input.then(|| Microphone { device: choice("input"), ..Microphone::default() }),
        buffer: number(kept, "buffer", config.buffer).clamp(64, 8192),
        ..config
    }
}

pub(super) fn keep_look(keeper: &Keeper, look: Look) {
    let sheet = match look.sheet {
        Sheet::Light => "light",
        Sheet::Dark => "dark",
        Sheet::ContrastLight => "contrast light",
        Sheet::ContrastDark => "contrast dark",
    };
    keeper.set("look.sheet", sheet);
    keeper.set("look.scale", &look.scale.to_string());
    keeper.set("look.distance", &look.distance_m.to_string());
    keeper.set("look.points_per_mm", &look.points_per_mm.to_string());
    keeper.set("look.hand", if look.hand == Hand::Left { "left" } else { "right" });
    keeper.set("look.motion", if look.motion == Motion::Reduced { "reduced" } else { "full" });
}

pub(super) fn keep_keys(keeper: &Keeper, settings: &Settings) {
    keeper.set(KEYS, &settings.keys.to_text());
    keeper.set(PEDALS, &settings.pedals.to_text());
}

pub(super) fn keep_hear_first(keeper: &Keeper, hears_first: bool) {
    keeper.set(HEAR_FIRST, if hears_first { "yes" } else { "no" });
}

pub(super) fn keep_volume(keeper: &Keeper, part: Part, db: f32) {
    let key = match part {
        Part::Click => "volume.click",
        Part::Guitar => "volume.guitar",
        Part::Song => "volume.song",
        Part::Bass => "volume.bass",
        Part::Brushes => "volume.brushes",
        Part::Master => "volume.master",
    };
    keeper.set(key, &db.to_string());
}

pub(super) fn keep_level(keeper: &Keeper, level: Level) {
    let level = match level {
        Level::Beginner => "beginner",
        Level::Improver => "improver",
        Level::Advanced => "advanced",
    };
    keeper.set("level", level);
}

pub(super) fn keep_strokes_start(keeper: &Keeper, wanted: bool) {
    keeper.set(STROKES_START, if wanted { "true" } else { "false" });
}

pub(super) fn keep_output(keeper: &Keeper, id: Option<&str>) {
    keeper.set("output", id.unwrap_or(DEFAULT));
}

pub(super) fn keep_input(keeper: &Keeper, choice: &InputChoice) {
    let text = match choice {
        InputChoice::None => NONE,
        InputChoice::Default => DEFAULT,
        InputChoice::Device(id) => id,
    };
    keeper.set("input", text);
}
