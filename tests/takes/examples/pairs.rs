//! Chords that are easily taken for each other, played and judged: right, wrong or unsure, a row a pair and way, before
//! the player's chords were learned and after.
//!
//! `cargo run --release -p sixrung-takes --example pairs -- SEED COUNT [FOLDER]` plays COUNT takes of each pair from SEED
//! on, each by a player of its own whose learning take comes before it, half of their chord spans with the pair's other
//! chord. Takes are kept in FOLDER and read from there again.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use sixrung_lesson::{Lesson, Stretch, Tempo, layout};
use sixrung_listen::{
    ChordFinding, LearnPlan, Learned, PassPlan, PassVerdict, PlannedShape, TakeOptions, judge_take, learn_take,
};
use sixrung_takes::{
    Condition, Dice, Engine, Error, Onsets, Order, Part, Piece, Player, Program, RATE, SOUND_FONT, Synth, draft, learn,
    write_wav,
};
use sixrung_timeline::{Between, Clicks, Request, compile};

/// Shapes as beginners learn them, easily taken for one another: common practice, no source.
const PAIRS: [Pair; 20] = [
    [("C", "x32010"), ("Am7", "x02010")],
    [("G", "320003"), ("G7", "320001")],
    [("E", "022100"), ("E7", "020100")],
    [("F", "133211"), ("Fmaj7", "xx3210")],
    [("E", "022100"), ("Em", "022000")],
    [("A", "x02220"), ("Am", "x02210")],
    [("D", "xx0232"), ("Dsus2", "xx0230")],
    [("D", "xx0232"), ("D7", "xx0212")],
    [("D", "xx0232"), ("Dm", "xx0231")],
    [("D", "xx0232"), ("Dsus4", "xx0233")],
    [("A", "x02220"), ("A7", "x02020")],
    [("A", "x02220"), ("Asus4", "x02230")],
    [("C", "x32010"), ("Cmaj7", "x32000")],
    [("C", "x32010"), ("Cadd9", "x32033")],
    [("C", "x32010"), ("Am", "x02210")],
    [("Am", "x02210"), ("Am7", "x02010")],
    [("Em", "022000"), ("Em7", "022030")],
    [("Em", "022000"), ("G", "320003")],
    [("Bm", "x24432"), ("Bm7", "x20202")],
    [("F", "133211"), ("Dm", "xx0231")],
];

type Pair = [(&'static str, &'static str); 2];
/// Grid, strokes, and whether two chords share a bar.
type Strum = (&'static str, &'static str, bool);

/// The guitars that play.
const GUITARS: [(Engine, Program); 4] = [
    (Engine::Fluid, Program::Steel),
    (Engine::Fluid, Program::Nylon),
    (Engine::Samples, Program::Steel),
    (Engine::Samples, Program::Nylon),
];

/// Spans of a take.
const SPANS: usize = 12;

/// Ways to strum a bar, drawn a take.
const PATTERNS: [Strum; 5] = [
    ("eighths", "D - D> U - U D> U", false),
    ("quarters", "D D D D", false),
    ("quarters", "D . . .", false),
    ("eighths", "D - D> U ^D - D> U", true),
    ("quarters", "D D ^D D", true),
];

fn main() -> Result<(), Error> {
    let mut args = std::env::args().skip(1);
    let seed = args.next().and_then(|seed| seed.parse::<u64>().ok()).unwrap_or(1);
    let count = args.next().and_then(|count| count.parse::<u64>().ok()).unwrap_or(4);
    let scratch = std::env::temp_dir().join(format!("pairs-{}", std::process::id()));
    let folder = args.next().map(PathBuf::from);
    std::fs::create_dir_all(&scratch).map_err(|error| Error::Lesson(error.to_string()))?;
    let synth = Synth::find(Path::new(SOUND_FONT), &scratch)?;
    let mut onsets = Vec::new();
    for guitar in GUITARS {
        onsets.push(synth.calibrate_on(guitar.0, guitar.1)?);
    }
    let booth = Booth { onsets, synth, folder };
    let (mut table, mut refused) = (Table::new(), 0);
    for (index, pair) in PAIRS.iter().enumerate() {
        for seed in seed..seed + count {
            let Some(rows) = booth.take(pair, seed)? else {
                refused += 1;
                continue;
            };
            for (asked, other, findings) in rows {
                let counts = table.entry((index, asked, other)).or_default();
                counts.iter_mut().zip(findings).for_each(|(counts, finding)| counts[finding as usize] += 1);
            }
        }
    }
    println!("{refused} players could not be learned; their takes are left out");
    let _ = std::fs::remove_dir_all(&scratch);
    print(&table);
    Ok(())
}

/// By pair, chord asked for and whether the other was played: right, wrong and unsure, before learning and after.
type Table = BTreeMap<(usize, String, bool), [[usize; 3]; 2]>;
/// The chord asked for, whether the other was played, and what was found before learning and after.
type Row = (String, bool, [ChordFinding; 2]);

struct Booth {
    synth: Synth,
    /// Of each of [`GUITARS`].
    onsets: Vec<Onsets>,
    folder: Option<PathBuf>,
}

impl Booth {
    /// The spans of one take; `None` when its player can't be learned.
    fn take(&self, pair: &Pair, seed: u64) -> Result<Option<Vec<Row>>, Error> {
        let name = format!("{}-{}-{seed}", pair[0].0, pair[1].0);
        let mut dice = Dice::branch(seed, &name);
        let strum = PATTERNS[dice.below(PATTERNS.len())];
        let asked = lesson(pair, strum, &[false; SPANS])?;
        let tempo = Tempo::from_bpm(dice.between(60.0, 126.0).round()).expect("a tempo a player can play");
        let piece = Piece { lesson: &asked, section: "to and fro", arrangement: "plain", tempo };
        let part = Part::of(&piece)?;
        let condition = if dice.chance(0.5) { Condition::Quiet } else { Condition::Room };
        let guitar = dice.below(GUITARS.len());
        let (engine, program) = GUITARS[guitar];
        let player = Player { seed: dice.bits(), program, engine };
        let starts = spans(&part);
        let others: Vec<bool> = starts.iter().map(|_| dice.chance(0.5)).collect();
        // What is played is a lesson of its own, which differs from the asked one in the chords alone.
        let played = lesson(pair, strum, &others)?;
        let order = Order {
            piece: Piece { lesson: &played, ..piece.clone() },
            lesson_file: "pairs",
            level: played.criterion.level,
            passes: 1,
            program,
            engine,
            player: Some(player),
            condition,
            planted: Vec::new(),
            bias_ms: None,
            lead_s: None,
            seed: dice.bits(),
        };
        let draft = draft(&order, &self.synth, &self.onsets[guitar])?;
        let sound = self.sound(&name, || Ok(draft.record(&self.synth)?.take))?;
        let lesson = || Ok(learn(&asked, "pairs", &player, condition, &self.synth, &self.onsets[guitar])?.0);
        let Some(learned) = learned(&asked, &self.sound(&format!("{name}-learn"), lesson)?) else { return Ok(None) };
        let plans = [plan(&piece)?];
        let judged = [None, Some(Arc::new(learned))].map(|learned| {
            let options = TakeOptions { starts_at_s: Some(draft.truth.starts_at_s), learned, ..TakeOptions::default() };
            judge_take(&sound, RATE, &plans, &options).expect("48 kHz is listened to").passes
        });
        Ok(Some(match judged.each_ref().map(|passes| passes.first()) {
            [Some(before), Some(after)] => rows(&part, &starts, &others, [before, after]),
            _ => Vec::new(),
        }))
    }

    fn sound(&self, name: &str, make: impl Fn() -> Result<Vec<f32>, Error>) -> Result<Vec<f32>, Error> {
        let Some(folder) = &self.folder else { return make() };
        let path = folder.join(name).with_extension("wav");
        if let Ok(mut reader) = hound::WavReader::open(&path) {
            return Ok(reader
                .samples::<i16>()
                .filter_map(Result::ok)
                .map(|value| f32::from(value) / 32767.0)
                .collect());
        }
        let sound = make()?;
        write_wav(&path, &sound)?;
        Ok(sound)
    }
}

/// What is learned from a learning take.
fn learned(lesson: &Lesson, sound: &[f32]) -> Option<Learned> {
    let plan = LearnPlan::new(PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo));
    learn_take(sound, RATE, &plan).expect("48 kHz is listened to").ok()
}

fn rows(part: &Part, starts: &[usize], others: &[bool], passes: [&PassVerdict; 2]) -> Vec<Row> {
    let row = |(start, other): (&usize, &bool)| {
        let asked = part.asked[*start].chord.map(|chord| part.chords[chord].name.clone()).unwrap_or_default();
        (asked, *other, passes.map(|pass| pass.strokes[*start].chord))
    };
    starts.iter().zip(others).map(row).collect()
}

/// The first stroke of each run on one chord.
fn spans(part: &Part) -> Vec<usize> {
    let asked = &part.asked;
    (0..asked.len()).filter(|index| *index == 0 || asked[*index].chord != asked[index - 1].chord).collect()
}

/// A lesson that asks for the pair's chords in turn; where `others` says so, for the other one.
fn lesson(pair: &Pair, strum: Strum, others: &[bool]) -> Result<Lesson, Error> {
    let [(one, one_frets), (other, other_frets)] = pair;
    let (grid, strokes, split) = strum;
    let name = |(index, swap): (usize, &bool)| if (index % 2 == 1) == *swap { *one } else { *other };
    let names: Vec<&str> = others.iter().enumerate().map(name).collect();
    let entries: String = if split {
        let both = |two: &[&str]| format!("(chords: [\"{}\", \"{}\"], pattern: \"p\"), ", two[0], two[1]);
        names.chunks_exact(2).map(both).collect()
    } else {
        names.iter().map(|name| format!("(chord: \"{name}\", pattern: \"p\"), ")).collect()
    };
    let text = format!(
        r#"Lesson(version: 1, title: "Pairs", credit: "made takes", tempo: 100, meter: "4/4",
            shapes: [(name: "{one}", frets: "{one_frets}"), (name: "{other}", frets: "{other_frets}")],
            patterns: [(name: "p", grid: "{grid}", strokes: "{strokes}")],
            sections: [(name: "to and fro", entries: [{entries}])])"#
    );
    let read = sixrung_lesson::read(text.as_bytes()).map_err(|findings| Error::Lesson(format!("{findings:?}")))?;
    Ok(read.lesson)
}

fn plan(piece: &Piece<'_>) -> Result<PassPlan, Error> {
    let arrangement = piece.lesson.arrangement(piece.arrangement).expect("a lesson has a plain arrangement");
    let said = |error: &dyn std::fmt::Display| Error::Lesson(error.to_string());
    let stretch = Stretch::Section(piece.section.to_owned());
    let score = layout(piece.lesson, &stretch, arrangement).map_err(|error| said(&error))?;
    let (tempo, between) = (piece.tempo, Between::Seamless);
    let request = Request {
        id: 0,
        rate: RATE,
        tempo,
        count_in_bars: 0,
        between,
        passes: None,
        clicks: Clicks::default(),
        backing: false,
    };
    let plan = compile(piece.lesson, &score, &request).map_err(|error| said(&error))?;
    let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass);
    Ok(pass.with_shapes(PlannedShape::all(&score, &piece.lesson.tuning)))
}

fn print(table: &Table) {
    println!("| asked ← played | spans | before: right | wrong | unsure | after: right | wrong | unsure |");
    println!("|---|---|---|---|---|---|---|---|");
    let mut sums = [[[0; 3]; 2]; 2];
    for ((index, asked, other), counts) in table {
        let pair = PAIRS[*index];
        let played = if *other == (pair[0].0 == asked.as_str()) { pair[1].0 } else { pair[0].0 };
        row(&format!("{asked} ← {played}"), counts);
        for (sums, counts) in sums[usize::from(*other)].iter_mut().zip(counts) {
            sums.iter_mut().zip(counts).for_each(|(sum, count)| *sum += count);
        }
    }
    row("as asked", &sums[0]);
    row("the other", &sums[1]);
}

fn row(name: &str, counts: &[[usize; 3]; 2]) {
    let cells = counts.iter().flatten().map(|count| format!(" {count} |")).collect::<String>();
    println!("| {name} | {} |{cells}", counts[0].iter().sum::<usize>());
}
