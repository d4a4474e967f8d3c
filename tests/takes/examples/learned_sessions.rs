//! Sessions of one player: a learning take, and takes with planted mistakes of the hands by the same player on the
//! same guitar in the same room. Writes them with their truth to a folder.
//!
//! `cargo run --release -p sixrung-takes --example learned_sessions -- DIR SEED COUNT`

use std::path::{Path, PathBuf};

use sixrung_lesson::{Action, Direction, Dynamic, Lesson, Tempo};
use sixrung_takes::{
    Asked, Condition, Dice, Error, Mistake, Note, Onsets, Part, Performance, Piece, Planted, Program, RATE, SOUND_FONT,
    Style, Synth, level_ms, midi, perform, record, write_wav,
};

/// Takes a session has after its learning take.
const TAKES: usize = 4;

fn main() -> Result<(), Error> {
    let mut args = std::env::args().skip(1);
    let out = PathBuf::from(args.next().expect("a folder"));
    let mut number = || args.next().and_then(|text| text.parse::<u64>().ok());
    let (seed, count) = (number().expect("a seed"), number().expect("a count"));
    std::fs::create_dir_all(&out).expect("the folder can be made");
    let scratch = out.join(format!(".scratch-{seed}"));
    std::fs::create_dir_all(&scratch).expect("the folder can be made");
    let synth = Synth::find(Path::new(SOUND_FONT), &scratch)?;
    let onsets = [synth.calibrate(Program::Steel)?, synth.calibrate(Program::Nylon)?];
    let lessons = lessons();
    for index in 0..count {
        let mut dice = Dice::branch(seed, &format!("session {index}"));
        session(&out.join(format!("s{seed}-{index:03}")), &synth, &onsets, &lessons, &mut dice)?;
    }
    std::fs::remove_dir_all(&scratch).expect("the folder can be removed");
    Ok(())
}

fn lessons() -> Vec<(PathBuf, Lesson)> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = [here.join("lessons"), here.join("../../assets/lessons")];
    let mut paths: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(folder).expect("the lessons are there"))
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".lesson.ron"))
        .collect();
    paths.sort();
    let read = |path: PathBuf| {
        let bytes = std::fs::read(&path).expect("the lesson is there");
        let lesson = sixrung_lesson::read(&bytes).expect("the lesson is sound").lesson;
        (path, lesson)
    };
    paths.into_iter().map(read).collect()
}

fn session(
    stem: &Path,
    synth: &Synth,
    onsets: &[Onsets; 2],
    lessons: &[(PathBuf, Lesson)],
    dice: &mut Dice,
) -> Result<(), Error> {
    let (program, onsets) = if dice.chance(0.5) { (Program::Steel, &onsets[0]) } else { (Program::Nylon, &onsets[1]) };
    let condition = if dice.chance(0.5) { Condition::Quiet } else { Condition::Room };
    let (path, lesson) = dice.pick(lessons).expect("lessons");
    let arrangement = &lesson.arrangements[0].name;
    let style = Style::draw(level_ms(lesson.criterion.level).0, dice);
    let room = dice.bits();
    let file = path.file_name().expect("a file").to_string_lossy();
    let head = format!(
        "\"program\":\"{}\",\"condition\":\"{}\",\"sweep_ms\":{},\"lesson\":\"{file}\"",
        program.name(),
        condition.name(),
        style.sweep_ms,
    );
    let section = |dice: &mut Dice| {
        let section = dice.pick(&lesson.sections).expect("sections").name.clone();
        let bpm = (lesson.tempo.bpm() * dice.between(0.6, 1.0)).round();
        (section, Tempo::from_bpm(bpm).unwrap_or(lesson.tempo))
    };
    // One section a session, so that all of its shapes are learned.
    let (name, _) = section(dice);
    for take in 0..=TAKES {
        let (_, tempo) = section(dice);
        let piece = Piece { lesson, section: &name, arrangement, tempo };
        let mut part = Part::of(&piece)?;
        let (starts_s, mut planted) = (1.0, Vec::new());
        if take == 0 {
            part = learning(&part);
        } else {
            planted = plant(&part, dice);
        }
        let mut done = perform(&part, 1, starts_s, style, &planted, onsets, dice);
        let rung = if take > 0 && dice.chance(0.3) { ring_open(&part, &mut done, onsets, dice) } else { None };
        let end_s = starts_s + part.pass_s + 1.5;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes")]
        let (end_ms, frames) = ((end_s * 1000.0) as u32, (end_s * f64::from(RATE)) as usize);
        let mut guitar = synth.play(&midi(&done, program, part.open.len(), onsets, end_ms))?;
        guitar.resize(frames, 0.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes")]
        let playing = (starts_s * f64::from(RATE)) as usize..((end_s - 1.5) * f64::from(RATE)) as usize;
        // The same stream each time: the same walls, and noise that differs by where it falls.
        let sound = record(&guitar, playing, condition, &mut Dice::new(room));
        let base = stem.with_file_name(format!("{}-t{take}", stem.file_name().expect("a name").to_string_lossy()));
        write_wav(&base.with_extension("wav"), &sound)?;
        let rest = truth(&part, &done, onsets, starts_s, &planted, rung);
        let text = format!("{{{head},\"section\":\"{name}\",\"bpm\":{},{rest}}}\n", tempo.bpm());
        std::fs::write(base.with_extension("json"), text).expect("the truth can be written");
    }
    Ok(())
}

/// Five slow down-strokes of each shape, then down and up in turn: about twenty of each over all shapes.
fn learning(part: &Part) -> Part {
    let mut asked = Vec::new();
    let mut at_s = 0.0;
    let pairs = 20_usize.div_ceil(part.chords.len());
    for chord in 0..part.chords.len() {
        for index in 0..5 + 2 * pairs {
            let slow = index < 5;
            let direction = if slow || index % 2 == 1 { Direction::Down } else { Direction::Up };
            let stroke = Asked {
                at_s,
                bar: 0,
                slot: 0,
                slot_s: 0.4,
                action: Action::Strum,
                direction,
                dynamic: Dynamic::Plain,
                chord: Some(chord),
            };
            asked.push(stroke);
            at_s += if slow { 1.5 } else { 0.45 };
        }
        at_s += 1.5;
    }
    Part { asked, stops_s: Vec::new(), pass_s: at_s, chords: part.chords.clone(), open: part.open.clone() }
}

/// At most two spans with a mistake of the left hand, and one stroke in twenty-five the other way.
fn plant(part: &Part, dice: &mut Dice) -> Vec<Planted> {
    let mut planted = Vec::new();
    let mut used: Vec<usize> = Vec::new();
    for _ in 0..2 {
        let stroke = dice.below(part.asked.len());
        let span = part.span(stroke);
        let mistake = match dice.below(5) {
            0 if part.chords.len() > 1 => Mistake::WrongChord,
            0..=2 => Mistake::WrongFret,
            _ => Mistake::MutedString,
        };
        if dice.chance(0.6) && part.asked[stroke].chord.is_some() && !used.contains(&span.start) {
            used.push(span.start);
            planted.push(Planted { pass: 0, stroke, mistake });
        }
    }
    for stroke in 0..part.asked.len() {
        if dice.chance(0.06) && part.asked[stroke].action == Action::Strum {
            planted.push(Planted { pass: 0, stroke, mistake: Mistake::WrongDirection });
        }
    }
    planted.sort_unstable();
    planted
}

/// Lets a string ring open that should be mute, through one span without another mistake.
fn ring_open(part: &Part, done: &mut Performance, onsets: &Onsets, dice: &mut Dice) -> Option<(usize, usize)> {
    let stroke = dice.below(part.asked.len());
    let span = part.span(stroke);
    let chord = &part.chords[part.asked[stroke].chord?];
    let mute: Vec<usize> = (0..chord.keys.len()).filter(|string| chord.keys[*string].is_none()).collect();
    let string = *dice.pick(&mute)?;
    let faulty = |struck: &&sixrung_takes::Struck| {
        span.contains(&struck.stroke)
            && struck.mistakes.iter().any(|mistake| !mistake.is_of_time() && *mistake != Mistake::WrongDirection)
    };
    if done.struck.iter().any(|struck| faulty(&struck)) {
        return None;
    }
    for struck in done.struck.iter_mut().filter(|struck| span.contains(&struck.stroke)) {
        // A down-stroke passes it on its way; an up-stroke seldom gets so far.
        let asked = &part.asked[struck.stroke];
        let down = (asked.direction == Direction::Down) != struck.mistakes.contains(&Mistake::WrongDirection);
        let Some(first) = struck.notes.first().copied() else { continue };
        if asked.action != Action::Strum || !down {
            continue;
        }
        let key = part.open[string];
        let heard_s = onsets.heard_s(first.tell_ms, first.key) + 0.004;
        struck.notes.push(Note { string, key, tell_ms: onsets.tell_ms(heard_s, key), ..first });
    }
    Some((span.start, string))
}

fn truth(
    part: &Part,
    done: &Performance,
    onsets: &Onsets,
    starts_s: f64,
    planted: &[Planted],
    rung: Option<(usize, usize)>,
) -> String {
    let strings: Vec<String> = part.open.iter().map(u8::to_string).collect();
    let chords: Vec<String> = part
        .chords
        .iter()
        .map(|chord| {
            let keys: Vec<String> =
                chord.keys.iter().map(|key| key.map_or("null".to_owned(), |key| key.to_string())).collect();
            format!("{{\"name\":\"{}\",\"keys\":[{}]}}", chord.name, keys.join(","))
        })
        .collect();
    let strokes: Vec<String> = done
        .struck
        .iter()
        .map(|struck| {
            let asked = &part.asked[struck.stroke];
            let played = struck.notes.iter().map(|note| onsets.heard_s(note.tell_ms, note.key)).min_by(f64::total_cmp);
            let names: Vec<String> = struck.mistakes.iter().map(|mistake| format!("\"{}\"", mistake.name())).collect();
            let span = part.span(struck.stroke);
            let open = rung.filter(|rung| rung.0 == span.start).map(|rung| rung.1);
            format!(
                "{{\"at\":{},\"played\":{},\"chord\":{},\"down\":{},\"strum\":{},\"span\":{},\"slot_s\":{},\
                 \"mistakes\":[{}],\"string\":{},\"open\":{}}}",
                starts_s + asked.at_s,
                played.map_or("null".to_owned(), |at| at.to_string()),
                asked.chord.map_or("null".to_owned(), |chord| chord.to_string()),
                asked.direction == Direction::Down,
                asked.action == Action::Strum,
                span.start,
                asked.slot_s,
                names.join(","),
                struck.string.map_or("null".to_owned(), |string| string.to_string()),
                open.map_or("null".to_owned(), |string| string.to_string()),
            )
        })
        .collect();
    format!(
        "\"open\":[{}],\"chords\":[{}],\"planted\":{},\"strokes\":[{}]",
        strings.join(","),
        chords.join(","),
        planted.len(),
        strokes.join(",")
    )
}
