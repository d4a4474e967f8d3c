//! Makes recorded takes with planted mistakes and writes their truth beside them.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, ValueEnum};
use sixrung_lesson::{Lesson, Level, Tempo};
use sixrung_takes::{
    Batch, Condition, Dice, Draft, Drill, Engine, Error, LearnTruth, Mistake, Onsets, Order, Part, Piece, Piecework,
    Player, Program, SOUND_FONT, Synth, draft, draw_pair, drill, learn, level_ms, parse, write_wav,
};

/// Makes recorded takes with planted mistakes, by fluidsynth, and writes their truth beside them.
#[derive(Parser)]
#[command(version)]
struct Args {
    /// Folder for the takes; made if it is not there
    #[arg(long)]
    out: PathBuf,
    /// The same seed gives the same takes
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Where, and beside what, the guitar is recorded, taken in turn; of one take, the first [default: all]
    #[arg(long, alias = "condition", value_enum, value_delimiter = ',')]
    conditions: Vec<Condition>,
    /// The sound font
    #[arg(long, default_value = SOUND_FONT)]
    sound_font: PathBuf,
    /// How many takes to draw
    #[arg(long, default_value_t = 24, conflicts_with = "lesson")]
    count: usize,
    /// Share of the takes that are clean
    #[arg(long, default_value_t = 0.5)]
    clean_share: f64,
    /// Share of the takes in which the hands make a mistake too
    #[arg(long, default_value_t = 0.0)]
    hands_share: f64,
    /// Kinds of mistakes of time, drawn from: missed, early, late, extra [default: all]
    #[arg(long, value_parser = of_time, value_delimiter = ',')]
    mistakes: Vec<Mistake>,
    /// What makes the notes; drawn from, where there are several
    #[arg(long = "engines", alias = "engine", value_enum, value_delimiter = ',', default_value = "fluid")]
    engines: Vec<Engine>,
    /// So many takes in a row are by one player, whose learning take of the lesson stands beside them [default: each
    /// take has a player of its own]
    #[arg(long, default_value_t = 0)]
    takes_a_player: usize,
    /// Folder of the lessons to draw from [default: the studies kept beside this program]
    #[arg(long)]
    lessons: Option<PathBuf>,
    /// Make only a learning take of this lesson: five slow strokes of each shape, then down- and up-strokes in turn
    #[arg(long, conflicts_with = "lesson")]
    learn: Option<PathBuf>,
    /// Make change drills of this lesson's shapes instead, so many as `count` says
    #[arg(long, conflicts_with_all = ["lesson", "learn"])]
    drill: Option<PathBuf>,
    /// The shape a drill begins with [default: drawn]
    #[arg(long, requires_all = ["to", "drill"])]
    from: Option<String>,
    /// The other shape of a drill
    #[arg(long, requires = "from")]
    to: Option<String>,
    /// Changes in a drill
    #[arg(long, default_value_t = 30)]
    changes: usize,
    /// Changes in a drill that are botched first
    #[arg(long, default_value_t = 2)]
    botched: usize,
    /// The player of the one take or the learning take: the same habits, guitar and room [default: drawn]
    #[arg(long)]
    player_seed: Option<u64>,
    /// Make one take of this lesson
    #[arg(long, requires = "section")]
    lesson: Option<PathBuf>,
    /// Section of the one take
    #[arg(long)]
    section: Option<String>,
    /// Tempo of the one take [default: the lesson's]
    #[arg(long)]
    bpm: Option<f64>,
    /// Arrangement of the one take [default: the lesson's first]
    #[arg(long)]
    arrangement: Option<String>,
    /// Level of the one take's criterion [default: the lesson's]
    #[arg(long, value_enum)]
    level: Option<LevelName>,
    /// Mistakes of the one take: `none`, or a list like late:3,missed:10,extra:7@2
    #[arg(long, default_value = "none")]
    faults: String,
    /// Passes of the one take
    #[arg(long, default_value_t = 1)]
    passes: usize,
    /// Guitar of the one take
    #[arg(long, value_enum, default_value_t = Program::Steel)]
    program: Program,
    /// The one player's bias in milliseconds [default: drawn]
    #[arg(long, allow_hyphen_values = true)]
    bias_ms: Option<f64>,
    /// Silence before the one take's first pass in seconds [default: drawn, 1 to 4]
    #[arg(long)]
    lead_s: Option<f64>,
}

fn of_time(name: &str) -> Result<Mistake, String> {
    let known = Mistake::named(name).filter(|mistake| mistake.is_of_time());
    known.ok_or_else(|| "it is none of missed, early, late, extra".to_owned())
}

#[derive(Clone, Copy, ValueEnum)]
enum LevelName {
    Beginner,
    Improver,
    Advanced,
}

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(args: &Args) -> Result<(), Error> {
    std::fs::create_dir_all(&args.out).map_err(|error| Error::File(args.out.clone(), error))?;
    let scratch = args.out.join(".scratch");
    std::fs::create_dir_all(&scratch).map_err(|error| Error::File(scratch.clone(), error))?;
    let synth = Synth::find(&args.sound_font, &scratch)?;
    let made = match (&args.drill, &args.learn, &args.lesson) {
        (Some(lesson), ..) => make_drills(args, lesson, &synth),
        (None, Some(lesson), _) => make_learning(args, lesson, &synth),
        (None, None, Some(lesson)) => make_one(args, lesson, &synth),
        (None, None, None) => make_many(args, &synth),
    };
    std::fs::remove_dir_all(&scratch).map_err(|error| Error::File(scratch, error))?;
    made
}

fn make_one(args: &Args, path: &Path, synth: &Synth) -> Result<(), Error> {
    let Piecework { file, lesson } = copy_lesson(path, &args.out)?;
    let first = lesson.arrangements.first().map_or("plain", |arrangement| &arrangement.name);
    let unfit = |bpm| Error::Lesson(format!("a tempo of {bpm} is not between 10 and 400"));
    let tempo = args.bpm.map_or(Ok(lesson.tempo), |bpm| Tempo::from_bpm(bpm).ok_or_else(|| unfit(bpm)))?;
    let piece = Piece {
        lesson: &lesson,
        section: args.section.as_deref().unwrap_or_default(),
        arrangement: args.arrangement.as_deref().unwrap_or(first),
        tempo,
    };
    let level = args.level.map_or(lesson.criterion.level, LevelName::level);
    let planted = parse(&args.faults, &Part::of(&piece)?, args.passes, level_ms(level).0)?;
    let order = Order {
        piece,
        lesson_file: &file,
        level,
        passes: args.passes,
        program: args.program,
        engine: args.engine(),
        player: args.player_seed.map(|seed| args.player(seed)),
        condition: args.condition(),
        planted,
        bias_ms: args.bias_ms,
        lead_s: args.lead_s,
        seed: args.seed,
    };
    let draft = draft(&order, synth, &synth.calibrate_on(args.engine(), args.program)?)?;
    save(draft, synth, &args.out, "take", None)
}

fn make_learning(args: &Args, path: &Path, synth: &Synth) -> Result<(), Error> {
    let Piecework { file, lesson } = copy_lesson(path, &args.out)?;
    let player = args.player(args.player_seed.unwrap_or(args.seed));
    let onsets = synth.calibrate_on(player.engine, player.program)?;
    let (sound, truth) = learn(&lesson, &file, &player, args.condition(), synth, &onsets)?;
    save_learning(&sound, &truth, &args.out, "learn").map(|_| ())
}

fn make_drills(args: &Args, path: &Path, synth: &Synth) -> Result<(), Error> {
    let Piecework { file, lesson } = copy_lesson(path, &args.out)?;
    let named = |name: &String| {
        let unknown = || Error::Lesson(format!("{}: no shape named `{name}`", path.display()));
        lesson.shapes.iter().position(|shape| shape.name == *name).ok_or_else(unknown)
    };
    let given = match (&args.from, &args.to) {
        (Some(from), Some(to)) => Some([named(from)?, named(to)?]),
        _ => None,
    };
    let conditions =
        if args.conditions.is_empty() { vec![Condition::Quiet, Condition::Room] } else { args.conditions.clone() };
    let mut measured: Vec<((Engine, Program), Onsets)> = Vec::new();
    for index in 0..args.count {
        let mut dice = Dice::branch(args.seed, &format!("drill {index}"));
        let shapes = given.unwrap_or_else(|| draw_pair(&lesson, &mut dice));
        let drawn = if dice.chance(0.5) { Program::Steel } else { Program::Nylon };
        let program = if args.count == 1 { args.program } else { drawn };
        let engine = args.engines[dice.below(args.engines.len())];
        let player = Player { seed: args.player_seed.unwrap_or_else(|| dice.bits()), program, engine };
        let condition = conditions[index % conditions.len()];
        let (changes, botched, seed) = (args.changes, args.botched, dice.bits());
        let key = (engine, program);
        if !measured.iter().any(|measured| measured.0 == key) {
            measured.push((key, synth.calibrate_on(engine, program)?));
        }
        let onsets = &measured.iter().find(|measured| measured.0 == key).expect("it was measured").1;
        let order = Drill { lesson: &lesson, file: &file, shapes, changes, botched, player, condition, seed };
        let (sound, truth) = drill(&order, synth, onsets)?;
        let name = args.out.join(format!("drill-{index:04}"));
        write_wav(&name.with_extension("wav"), &sound)?;
        let path = name.with_extension("json");
        let text = serde_json::to_string_pretty(&truth).expect("a truth holds only numbers and text");
        std::fs::write(&path, text + "\n").map_err(|error| Error::File(path.clone(), error))?;
        let [from, to] = &truth.shapes;
        println!("{}: {from} to {to}, {}, {}, {}", path.display(), truth.program, truth.engine, truth.condition);
    }
    Ok(())
}

fn make_many(args: &Args, synth: &Synth) -> Result<(), Error> {
    let kept = || Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    let folder = args.lessons.clone().unwrap_or_else(kept);
    let entries = std::fs::read_dir(&folder).map_err(|error| Error::File(folder.clone(), error))?;
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.retain(|path| path.to_string_lossy().ends_with(".lesson.ron"));
    paths.sort();
    let batch = Batch {
        lessons: paths.iter().map(|path| copy_lesson(path, &args.out)).collect::<Result<_, _>>()?,
        conditions: if args.conditions.is_empty() { Condition::ALL.to_vec() } else { args.conditions.clone() },
        clean_share: args.clean_share,
        hands_share: args.hands_share,
        mistakes: if args.mistakes.is_empty() { Mistake::OF_TIME.to_vec() } else { args.mistakes.clone() },
        engines: args.engines.clone(),
        takes_a_player: args.takes_a_player,
        seed: args.seed,
    };
    let mut measured = Vec::new();
    for engine in &batch.engines {
        for program in [Program::Steel, Program::Nylon] {
            measured.push(((*engine, program), synth.calibrate_on(*engine, program)?));
        }
    }
    let onsets = |engine, program| -> Onsets {
        let found = measured.iter().find(|measured| measured.0 == (engine, program));
        found.map(|measured| measured.1.clone()).expect("every engine and guitar was measured")
    };
    let mut learned = None;
    for index in 0..args.count {
        if args.takes_a_player > 0 && index % args.takes_a_player == 0 {
            let name = format!("player-{:04}", index / args.takes_a_player);
            let made = batch.learning(index, synth, onsets).transpose()?;
            learned = made.map(|(sound, truth)| save_learning(&sound, &truth, &args.out, &name)).transpose()?;
        }
        let draft = batch.draw(index, synth, onsets)?;
        save(draft, synth, &args.out, &format!("take-{index:04}"), learned.clone())?;
    }
    Ok(())
}

/// Reads a lesson and puts a copy beside the takes, so that they can be judged wherever they are taken.
fn copy_lesson(path: &Path, out: &Path) -> Result<Piecework, Error> {
    let bytes = std::fs::read(path).map_err(|error| Error::File(path.to_owned(), error))?;
    let said = |findings: Vec<sixrung_lesson::Diagnostic>| {
        let lines: Vec<String> = findings.iter().map(|finding| format!("{}:{finding}", path.display())).collect();
        Error::Lesson(lines.join("\n"))
    };
    let lesson: Lesson = sixrung_lesson::read(&bytes).map_err(said)?.lesson;
    let file = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let copy = out.join(&file);
    std::fs::write(&copy, &bytes).map_err(|error| Error::File(copy.clone(), error))?;
    Ok(Piecework { file, lesson })
}

/// Gives back the file's name.
fn save_learning(sound: &[f32], truth: &LearnTruth, out: &Path, name: &str) -> Result<String, Error> {
    let file = format!("{name}.learn.wav");
    write_wav(&out.join(&file), sound)?;
    let path = out.join(format!("{name}.learn.json"));
    let text = serde_json::to_string_pretty(truth).expect("a truth holds only numbers and text");
    std::fs::write(&path, text + "\n").map_err(|error| Error::File(path.clone(), error))?;
    println!("{}: {} {}, {}, {}", path.display(), truth.lesson, truth.program, truth.engine, truth.condition);
    Ok(file)
}

fn save(mut draft: Draft, synth: &Synth, out: &Path, name: &str, learned: Option<String>) -> Result<(), Error> {
    draft.truth.learn = learned;
    let recording = draft.record(synth)?;
    write_wav(&out.join(name).with_extension("wav"), &recording.take)?;
    if let Some(played) = &recording.played {
        let file = format!("{name}.played.wav");
        write_wav(&out.join(&file), played)?;
        draft.truth.played = Some(file);
    }
    let path = out.join(name).with_extension("json");
    let text = serde_json::to_string_pretty(&draft.truth).expect("a truth holds only numbers and text");
    std::fs::write(&path, text + "\n").map_err(|error| Error::File(path.clone(), error))?;
    let truth = &draft.truth;
    println!(
        "{}: {} {} at {} bpm, {} pass(es), {}, {}: {}",
        path.display(),
        truth.lesson,
        truth.section,
        truth.bpm,
        truth.passes,
        truth.program,
        truth.condition,
        truth.verdict
    );
    Ok(())
}

impl Args {
    fn condition(&self) -> Condition {
        self.conditions.first().copied().unwrap_or(Condition::Quiet)
    }

    fn engine(&self) -> Engine {
        self.engines.first().copied().unwrap_or(Engine::Fluid)
    }

    fn player(&self, seed: u64) -> Player {
        Player { seed, program: self.program, engine: self.engine() }
    }
}

impl LevelName {
    const fn level(self) -> Level {
        match self {
            Self::Beginner => Level::Beginner,
            Self::Improver => Level::Improver,
            Self::Advanced => Level::Advanced,
        }
    }
}
