//! What the printed guide says.

use sixrung_drawing::strip::{BarStrip, SlotView};
use sixrung_drawing::stroke_letter;
use sixrung_exchange::guide::{Facts, Words};
use sixrung_lesson::{Action, BeatUnit, Direction, Dynamic, Grid, Meter, Shape, StringUse, Stroke, Tuning};

/// The guide in English.
pub(crate) const WORDS: Words = Words {
    language: "en",
    chords: "Chords",
    strokes: "Strokes",
    song: "The song",
    ladder: "The ladder",
    days: "The days",
    days_hint: "Write down the minutes you played.",
    days_grid: "Four weeks of seven boxes to write minutes into",
    weekdays: ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
    caution: "General information, not medical advice. Stop if you feel pain, numbness or tingling. If it persists, see a \
              doctor or other licensed clinician. Fingertip soreness is common at first; joint or wrist pain is not a goal.",
    tempo: "Tempo",
    next_chord: "next chord",
    whole: "Whole piece",
    facts,
    sounds: |name| format!("sounds {name}"),
    stands_in: |name| format!("for {name}"),
    silent,
    fret: |fret| format!("fr {fret}"),
    diagram,
    grid,
    legend,
    pattern,
    bars: |bars| if bars == 1 { "1 bar".to_owned() } else { format!("{bars} bars") },
    times: |pattern, times| if times == 1 { pattern.to_owned() } else { format!("{pattern}, {times} times") },
    nth_time: |time, what| format!("{} time: {what}", ordinal(time.into())),
    last_time: |what| format!("last time: {what}"),
    meter: |meter| format!("{}/{}", meter.count(), meter.unit()),
    ending: |ending| format!("{} ending", ordinal(ending)),
    option: |name, is_taken| format!("{} “{name}”", if is_taken { "with" } else { "without" }),
    rule,
    percent: |percent| format!("{percent} %"),
    week: |week| format!("Week {week}"),
    page: |page, of| format!("{page} of {of}"),
};

fn ordinal(number: usize) -> String {
    let ending = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

fn facts(facts: &Facts<'_>) -> Vec<String> {
    let lesson = facts.lesson;
    let beat = match lesson.beat {
        BeatUnit::Eighth => "eighth notes",
        BeatUnit::Quarter => "quarter notes",
        BeatUnit::DottedQuarter => "dotted quarter notes",
        BeatUnit::Half => "half notes",
    };
    let tuning = match lesson.tuning == Tuning::standard_guitar() {
        true => "standard tuning",
        false => "tuned",
    };
    let capo = match facts.capo() {
        0 => "no capo".to_owned(),
        fret => format!("capo at fret {fret}"),
    };
    let mut all = vec![format!("{} {beat} a minute", lesson.tempo.bpm()), meter(lesson.meter)];
    if !lesson.key.is_empty() {
        all.push(format!("key {}", lesson.key));
    }
    all.extend([capo, format!("{tuning} {}", facts.strings())]);
    let arrangement = facts.arrangement;
    if !arrangement.name.is_empty() {
        all.push(format!("played “{}”", arrangement.name));
    }
    if arrangement.stand_ins {
        all.push("easier shapes".to_owned());
    }
    all.extend(arrangement.options.iter().map(|option| format!("with “{option}”")));
    all
}

/// Under a diagram, where × stands over the strings.
fn silent(strings: &[usize], with: &str) -> String {
    let strings: Vec<String> = strings.iter().map(ToString::to_string).collect();
    format!("× {}: {}", strings.join(", "), way(with))
}

/// How a string is kept silent, as it is printed.
fn way(with: &str) -> String {
    with.trim_end_matches('.').replace('\'', "’")
}

fn meter(meter: Meter) -> String {
    format!("{}/{}", meter.count(), meter.unit())
}

fn diagram(name: &str, shape: &Shape) -> String {
    let count = shape.strings.len();
    let barres = shape.barres.iter().map(|barre| {
        let (from, to) = (count - barre.from, count - barre.to);
        format!("finger {} across strings {from} to {to} at fret {}", barre.finger.letter(), barre.fret)
    });
    let strings = shape.strings.iter().enumerate().map(|(index, used)| {
        let string = count - index;
        match (used, shape.fingers.get(index).copied().flatten()) {
            (StringUse::Muted, _) => match shape.mute_notes.iter().find(|note| note.string == index) {
                // Plain letters: a single other one would make the text four times as long in the file.
                Some(note) => format!("string {string} silent, by {}", note.with.trim_end_matches('.')),
                None => format!("string {string} silent"),
            },
            (StringUse::Open, _) => format!("string {string} open"),
            (StringUse::Fret(fret), Some(finger)) => {
                format!("string {string} fret {fret} finger {}", finger.letter())
            }
            (StringUse::Fret(fret), None) => format!("string {string} fret {fret}"),
        }
    });
    format!("{name}: {}", barres.chain(strings).collect::<Vec<_>>().join("; "))
}

fn grid(grid: Grid) -> String {
    match grid {
        Grid::Quarters => "quarters".to_owned(),
        Grid::Eighths => "eighths".to_owned(),
        Grid::SwungEighths { long, short } if long == short => "eighths".to_owned(),
        Grid::SwungEighths { long, short } => {
            let comes = if long > short { "late" } else { "early" };
            format!("swung eighths, {long} to {short}: the & comes {comes}")
        }
        Grid::Triplets => "triplets".to_owned(),
        Grid::Sixteenths => "sixteenths".to_owned(),
    }
}

fn legend(strokes: &[Stroke]) -> Vec<String> {
    let has = |action| strokes.iter().any(|stroke| stroke.action == action);
    let goes = |way| strokes.iter().any(|stroke| stroke.action == Action::Strum && stroke.direction == way);
    let loud = |dynamic| strokes.iter().any(|stroke| stroke.action.sounds() && stroke.dynamic == dynamic);
    let signs = [
        (goes(Direction::Down), "D down"),
        (goes(Direction::Up), "U up"),
        (has(Action::Chuck), "X on deadened strings"),
        (has(Action::Bass), "B lowest string alone"),
        (has(Action::Stop), "S stop the strings"),
        (has(Action::Air), "short dash: the hand moves past the strings"),
        (has(Action::Ring), "long thin line: let it ring"),
        (loud(Dynamic::Accent), "wedge on top: louder"),
        (loud(Dynamic::Soft), "thin short arrow: softer"),
        (strokes.iter().any(|stroke| stroke.changes), "dashed upright: the next chord begins here"),
    ];
    signs.into_iter().filter(|(used, _)| *used).map(|(_, words)| words.to_owned()).collect()
}

fn pattern(name: &str, bars: &[BarStrip]) -> String {
    let stroke = |slot: &SlotView| {
        let letter = match slot.action {
            Action::Air => "past the strings",
            Action::Ring => "ring",
            action => stroke_letter(action, slot.direction),
        };
        let accent = if slot.action.sounds() && slot.dynamic == Dynamic::Accent { ", louder" } else { "" };
        let change = if slot.change.is_some() { ", next chord" } else { "" };
        format!("{} {letter}{accent}{change}", slot.count)
    };
    let bar = |bar: &BarStrip| bar.slots.iter().map(stroke).collect::<Vec<_>>().join("; ");
    format!("{name}: {}", bars.iter().map(bar).collect::<Vec<_>>().join(" | "))
}

fn rule(up_after: u8, down_after: u8) -> String {
    let up = match up_after {
        1 => "One clean pass: one rung up.".to_owned(),
        passes => format!("{passes} clean in a row: one rung up."),
    };
    let down = match down_after {
        1 => "One that is not clean: one rung down.".to_owned(),
        passes => format!("{passes} in a row that are not clean: one rung down."),
    };
    format!("Start at the lowest rung. Tick a box for each clean pass: in time and sounding, start to end. {up} {down}")
}
