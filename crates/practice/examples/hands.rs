//! What the mechanics of the hand say of lessons and of common chords, as markdown.
//!
//! `cargo run -p sixrung-practice --example hands -- assets/lessons/*.ron`

use std::error::Error;

use sixrung_lesson::{Finger, Lesson, Score, Shape, Stretch, Tick, layout};
use sixrung_practice::hands::{
    ChangeMoves, FingerMove, Grip, HandModel, NeededChange, Played, Refingering, Weights, choose_fingerings,
    needed_changes, rank_changes, refingerings,
};

#[path = "../tests/hands/shapes.rs"]
mod shapes;
use shapes::{COMMON, common, usual};

/// Pairs that beginners' songs use: the eight open chords among themselves, then sevenths, added notes and barres.
const MORE_PAIRS: [(&str, &str); 22] = [
    ("C", "F"),
    ("G", "F"),
    ("Am", "F"),
    ("Dm", "F"),
    ("Em", "F"),
    ("C", "Fsmall"),
    ("Am", "Fsmall"),
    ("G", "Bm"),
    ("D", "Bm"),
    ("A", "Bm"),
    ("F", "Bm"),
    ("E", "B7"),
    ("Em", "B7"),
    ("A", "E7"),
    ("D", "A7"),
    ("G", "D7"),
    ("C", "G7"),
    ("F", "C7"),
    ("G", "Cadd9"),
    ("Em7", "Cadd9"),
    ("Am", "Fmaj7"),
    ("C", "Am7"),
];

/// Circles of shapes in which the usual fingerings are held against others.
const CIRCLES: [&[&str]; 16] = [
    &["D", "A"],
    &["A", "D", "E"],
    &["D", "A7"],
    &["A7", "E7"],
    &["G", "D", "Em", "C"],
    &["C", "Am", "Em"],
    &["C", "Am", "Dm", "G"],
    &["E", "A", "B7"],
    &["Am", "E"],
    &["Am", "Asus2"],
    &["A", "Asus2"],
    &["D", "Dsus4"],
    &["A", "Asus4"],
    &["Am7", "Dm7", "G7", "Cmaj7"],
    &["C", "Cmaj7", "Am"],
    &["C", "G", "Am", "F"],
];

fn main() -> Result<(), Box<dyn Error>> {
    let lessons = std::env::args().skip(1).map(|path| read(&path)).collect::<Result<Vec<_>, _>>()?;
    println!("## The hardest change of every lesson and section\n");
    println!(
        "| lesson | section | hardest change | cost | most demanding at the original tempo | cost / s | drilled first |"
    );
    println!("|---|---|---|---|---|---|---|");
    for lesson in &lessons {
        hardest(lesson)?;
    }
    println!("\n## Fifty common pairs, the hardest first\n");
    println!("| | pair | there | back | mean | stay | slide | what the fingers do on the way there |");
    println!("|---|---|---|---|---|---|---|---|");
    fifty_pairs();
    println!("\n## Other fingerings offered, the most gained for each chord taken first\n");
    println!("| where | shape | given | offered | gain a pass | of | of which |");
    println!("|---|---|---|---|---|---|---|");
    offers(&lessons)?;
    Ok(())
}

fn read(path: &str) -> Result<Lesson, Box<dyn Error>> {
    let text = std::fs::read(path)?;
    match sixrung_lesson::read(&text) {
        Ok(read) => Ok(read.lesson),
        Err(findings) => Err(format!("{path}: {}", findings[0]).into()),
    }
}

/// The whole, then each section.
fn stretches(lesson: &Lesson) -> impl Iterator<Item = (&str, Stretch)> {
    let sections =
        lesson.sections.iter().map(|section| (section.name.as_str(), Stretch::Section(section.name.clone())));
    [("(whole)", Stretch::Whole)].into_iter().chain(sections)
}

fn hardest(lesson: &Lesson) -> Result<(), Box<dyn Error>> {
    for (section, stretch) in stretches(lesson) {
        let score = layout(lesson, &stretch, &lesson.arrangements[0])?;
        let changes = needed_changes(&score);
        let chosen = choose_fingerings(&changes, &score.shapes, score.capo, &Weights::PROPOSAL);
        let played = Played { capo: score.capo, tempo: lesson.tempo, beat: lesson.beat, model: &HandModel::PRIOR };
        let ranked = rank_changes(&changes, &chosen.grips, played, |_, _| None);
        let Some(drilled) = ranked.first() else {
            println!("| {} | {section} | no change | | | | |", lesson.title);
            continue;
        };
        let ways = || ranked.iter().flat_map(|pair| &pair.ways);
        let most = |one: f64, other: f64| one.total_cmp(&other);
        let hard = ways().max_by(|one, other| most(one.cost, other.cost)).ok_or("a pair has a way")?;
        let demanding = ways().max_by(|one, other| most(one.demand(), other.demand())).ok_or("a pair has a way")?;
        let name = |shape: usize| &score.shapes[shape].name;
        let arrow = |change: &NeededChange| format!("{} → {}", name(change.from), name(change.to));
        println!(
            "| {} | {section} | {} | {:.2} | {} | {:.2} | {} and {} |",
            lesson.title,
            arrow(&hard.change),
            hard.cost,
            arrow(&demanding.change),
            demanding.demand(),
            name(drilled.shapes.0),
            name(drilled.shapes.1),
        );
    }
    Ok(())
}

fn fifty_pairs() {
    let open = ["C", "A", "G", "E", "D", "Am", "Em", "Dm"];
    let among = open.iter().enumerate().flat_map(|(at, one)| open[at + 1..].iter().map(move |other| (*one, *other)));
    let cost = |moves: &ChangeMoves| Weights::PROPOSAL.cost(&moves.features());
    let mut pairs: Vec<_> = among
        .chain(MORE_PAIRS)
        .map(|(one, other)| {
            let there = ChangeMoves::between(&usual(one), &usual(other), 0);
            let back = ChangeMoves::between(&usual(other), &usual(one), 0);
            (cost(&there), cost(&back), one, other, there)
        })
        .collect();
    // A pair is as hard as its harder way; of equally hard ones the harder way back comes first.
    let ways = |pair: &(f64, f64, &str, &str, ChangeMoves)| (pair.0.max(pair.1), pair.0.min(pair.1));
    pairs.sort_by(|one, other| {
        let (one, other) = (ways(one), ways(other));
        other.0.total_cmp(&one.0).then(other.1.total_cmp(&one.1))
    });
    for (place, (there, back, one, other, moves)) in pairs.iter().enumerate() {
        let features = moves.features();
        println!(
            "| {} | {one} – {other} | {there:.2} | {back:.2} | {:.2} | {} | {} | {} |",
            place + 1,
            (there + back) / 2.0,
            features.anchors,
            features.guides,
            told(moves),
        );
    }
}

/// Strings by their number, 1 the lightest of six.
fn told(moves: &ChangeMoves) -> String {
    let told = moves.fingers.iter().map(|(finger, moved)| {
        let finger = finger.letter();
        let place = moved.after().map_or_else(String::new, |hold| {
            let across = if hold.is_barre() { format!("–{}", 6 - hold.to) } else { String::new() };
            format!("string {}{across} fret {}", 6 - hold.from, hold.fret)
        });
        match moved {
            FingerMove::Stays { .. } => format!("{finger} stays"),
            FingerMove::Slides { to, .. } => format!("{finger} slides to fret {}", to.fret),
            FingerMove::Moves { .. } => format!("{finger} to {place}"),
            FingerMove::Placed { .. } => format!("{finger} comes to {place}"),
            FingerMove::Lifted { .. } => format!("{finger} leaves"),
        }
    });
    let mut told = told.collect::<Vec<_>>().join("; ");
    if moves.shift_mm != 0.0 {
        told.push_str(&format!("; the hand {:+.0} mm", moves.shift_mm));
    }
    told
}

/// An offer, and where it was found.
struct Found {
    place: String,
    shapes: Vec<Shape>,
    offer: Refingering,
    taken: u32,
}

fn offers(lessons: &[Lesson]) -> Result<(), Box<dyn Error>> {
    let mut found: Vec<Found> = Vec::new();
    let mut look = |place: String, changes: &[NeededChange], shapes: &[Shape], capo: u8| {
        for offer in refingerings(changes, shapes, capo, &Weights::PROPOSAL) {
            let into = changes.iter().filter(|change| change.to == offer.shape);
            let taken = into.map(|change| change.times).sum();
            found.push(Found { place: place.clone(), shapes: shapes.to_vec(), offer, taken });
        }
    };
    for lesson in lessons {
        for (section, stretch) in stretches(lesson) {
            let score: Score = layout(lesson, &stretch, &lesson.arrangements[0])?;
            look(format!("{}, {section}", lesson.title), &needed_changes(&score), &score.shapes, score.capo);
        }
    }
    for names in CIRCLES {
        let shapes: Vec<Shape> = names.iter().map(|name| common(name)).collect();
        let to = (0..names.len()).cycle().skip(1);
        let changes: Vec<NeededChange> = (0..names.len())
            .zip(to)
            .map(|(from, to)| NeededChange { from, to, times: 1, shortest: Tick(480) })
            .collect();
        look(names.join(" "), &changes, &shapes, 0);
    }
    let gain = |found: &Found| found.offer.gain / f64::from(found.taken.max(1));
    found.sort_by(|one, other| gain(other).total_cmp(&gain(one)));
    for Found { place, shapes, offer, .. } in &found {
        let shape = &shapes[offer.shape];
        let name = |shape: usize| &shapes[shape].name;
        let parts =
            offer.changes.iter().map(|part| format!("{} → {} {:+.2}", name(part.from), name(part.to), part.gain));
        println!(
            "| {place} | {} | {} | {} | {:.2} | {:.2} | {} |",
            shape.name,
            fingers(&offer.given, shape),
            fingers(&offer.offered, shape),
            offer.gain,
            offer.cost,
            parts.collect::<Vec<_>>().join(", "),
        );
    }
    println!("\n{} offers; {} shapes in the table of common ones.", found.len(), COMMON.len());
    Ok(())
}

fn fingers(grip: &Grip, shape: &Shape) -> String {
    grip.on(shape).fingers.iter().map(|finger| finger.map_or('-', Finger::letter)).collect()
}
