//! Words of the page of changes.

use sixrung_lesson::Finger;
use sixrung_practice::hands::{ChangeMoves, FingerMove, Grip, Hold};

use crate::pages::DrillView;

/// Heading.
pub const TITLE: &str = "Changes";
/// With no lesson open, or one chord only.
pub const EMPTY: &str = "There is no change of chord in this section.";
/// Keys.
pub const KEYS: &str = "L: hear the chords. Pedal: forward is Space, back is L.";
/// The button that goes on to the next pair.
pub const NEXT_PAIR: &str = "Next pair";
/// The same after the last.
pub const NEXT_STEP: &str = "Next step";
/// Without a microphone.
pub const DEAF: &str = "Back and forth, slowly. Judge by ear.";
/// The slow ones.
pub const SLOWLY: &str = "Strum. Change. Strum. Eight times, slowly.";
/// After them.
pub const ON: &str = "Keep going back and forth, no hurry.";
/// It is steady.
pub const STEADY: &str = "That is steady. Space: next pair.";
/// The last pair is.
pub const STEADY_LAST: &str = "That is steady. Space: next step.";
/// Above the pairs.
pub const PAIRS: &str = "the changes here, the hardest first";
/// Above how it is counted.
pub const HOW: &str = "how I time it";
/// How it is counted.
pub const HOW_WORDS: &str = "From your last strum of one chord to the first clear strum of the next.";
/// Above a fingering that is offered.
pub const OFFER: &str = "another fingering";
/// Marks the step.
pub const MARK: &str = "I can change these: next step";

/// How many changes, and how long they take.
#[must_use]
pub fn figures(drill: &DrillView) -> String {
    let count = match drill.count {
        0 => return "Play the first chord. I am listening.".to_owned(),
        1 => "1 change".to_owned(),
        count => format!("{count} changes"),
    };
    let Some((median_s, _)) = drill.median_s else { return count };
    let fits = drill.fits.as_ref().map(|bpm| format!(" · quick enough for {bpm}")).unwrap_or_default();
    format!("{count} · about {median_s:.1} s{fits}")
}

/// How often a pass needs it.
#[must_use]
pub fn often(times: u32) -> String {
    if times == 1 { "once each time through".to_owned() } else { format!("{times} times each time through") }
}

/// What is known of a pair.
#[must_use]
pub fn pair(median_s: Option<f64>, fits: Option<&str>, times: u32) -> String {
    let often = often(times);
    match (median_s, fits) {
        (Some(median_s), Some(fits)) => format!("{median_s:.1} s, quick enough for {fits} · {often}"),
        (Some(median_s), None) => format!("{median_s:.1} s · {often}"),
        (None, _) => format!("not played yet · {often}"),
    }
}

/// Attempts that sounded neither chord.
#[must_use]
pub fn botched(count: u32) -> String {
    match count {
        1 => "One strum was neither chord. Look where the fingers go, then move.".to_owned(),
        _ => format!("{count} strums were neither chord. Look where the fingers go, then move."),
    }
}

fn name(finger: Finger) -> String {
    if finger == Finger::Thumb { "the thumb".to_owned() } else { format!("finger {}", finger.letter()) }
}

/// `Finger 1`, `Fingers 1 and 2`, `Fingers 1, 2 and 3`: at the beginning of a sentence.
fn names(fingers: &[Finger]) -> String {
    let letters: Vec<String> = fingers.iter().map(|finger| finger.letter().to_string()).collect();
    match letters.split_last() {
        Some((last, [])) => format!("Finger {last}"),
        Some((last, first)) => format!("Fingers {} and {last}", first.join(", ")),
        None => String::new(),
    }
}

fn place(hold: &Hold, number: impl Fn(usize) -> usize) -> String {
    let (from, to) = (hold.from, hold.to);
    match from == to {
        true => format!("string {}, fret {}", number(from), hold.fret),
        false => format!("strings {} to {}, fret {}", number(from), number(to), hold.fret),
    }
}

/// How the fingers go from one shape to the other, in at most three sentences: what stays, what slides, what goes first.
/// `number` is a string's number as players say it.
#[must_use]
pub fn moves(moves: &ChangeMoves, number: impl Fn(usize) -> usize + Copy) -> Vec<String> {
    let mut sentences = Vec::new();
    let of = |pick: fn(&FingerMove) -> bool| -> Vec<Finger> {
        moves.fingers.iter().filter(|(_, moved)| pick(moved)).map(|(finger, _)| *finger).collect()
    };
    let stay = of(|moved| matches!(moved, FingerMove::Stays { .. }));
    if !stay.is_empty() {
        let verb = if stay.len() == 1 { "stays where it is" } else { "stay where they are" };
        sentences.push(format!("{} {verb}.", names(&stay)));
    }
    for (finger, moved) in &moves.fingers {
        if let FingerMove::Slides { to, .. } = moved {
            let who = capital(&name(*finger));
            sentences.push(format!("{who} slides to {}. It stays on the string.", place(to, number)));
        }
    }
    let holds_on = !sentences.is_empty();
    let goes = |moved: &FingerMove| matches!(moved, FingerMove::Moves { .. } | FingerMove::Placed { .. });
    let mut going: Vec<_> = moves.fingers.iter().filter(|(_, moved)| goes(moved)).collect();
    // A barre is laid first; else the bass string is sought first.
    going.sort_by_key(|(_, moved)| {
        let hold = moved.after();
        (!moved.enters_barre(), hold.map(|hold| hold.from))
    });
    if let Some((finger, moved)) = going.first()
        && let Some(hold) = moved.after()
    {
        let who = name(*finger);
        let rest = if going.len() > 1 { ". The others land with it" } else { "" };
        let words = if moved.enters_barre() {
            format!("Lay {who} flat: {}{rest}.", place(hold, number))
        } else if going.len() > 1 && !holds_on {
            format!("Lift all fingers. Aim {who}: {}{rest}.", place(hold, number))
        } else {
            format!("{} goes to {}{rest}.", capital(&who), place(hold, number))
        };
        sentences.push(words);
    } else {
        let lifted = of(|moved| matches!(moved, FingerMove::Lifted { .. }));
        if !lifted.is_empty() {
            let verb = if lifted.len() == 1 { "lifts" } else { "lift" };
            sentences.push(format!("{} {verb}.", names(&lifted)));
        }
    }
    sentences
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A fingering that makes the section easier: which fingers, and how much of the work of its changes it saves.
#[must_use]
pub fn refinger(chord: &str, offered: &Grip, share: f64, number: impl Fn(usize) -> usize + Copy) -> String {
    let string = |hold: &Hold| match hold.is_barre() {
        true => format!("strings {} to {}", number(hold.from), number(hold.to)),
        false => format!("string {}", number(hold.from)),
    };
    let fingers: Vec<String> =
        offered.holds().iter().map(|hold| format!("{} on {}", name(hold.finger), string(hold))).collect();
    let percent = (share * 100.0).round();
    format!("{chord} with {}: a little less to move here ({percent} %). Both ways are right.", fingers.join(", "))
}
