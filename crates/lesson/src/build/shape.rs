//! Shapes from their compact texts, with the barres their fingers make.

use super::{name, ranged, text};
use crate::file::v1::ShapeForm;
use crate::findings::{At, Findings};
use crate::shape::{Barre, Finger, MuteNote, Shape, StringUse};
use crate::text::frets::{parse_fingers, parse_frets};
use crate::tuning::Tuning;

pub(super) fn shape(form: &ShapeForm, tuning: Option<&Tuning>, findings: &mut Findings<'_>) -> Option<Shape> {
    let name = name(form.name.as_ref(), findings);
    let strings = form.frets.as_ref().and_then(|written| {
        parse_frets(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok()
    });
    let fingers = form
        .fingers
        .as_ref()
        .map(|written| parse_fingers(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok());
    let (strings, frets) = (strings?, form.frets.as_ref()?);
    let fits_tuning = fits(frets, strings.len(), tuning?.strings(), "the tuning has", findings);
    let fingers = match (fingers, &form.fingers) {
        (Some(fingers), Some(written)) => {
            let fingers = fingers?;
            fits(written, fingers.len(), strings.len(), "the frets have", findings).then_some(fingers)
        }
        _ => Some(vec![None; strings.len()]),
    };
    let mute_notes = mute_notes(form, &strings, findings);
    let (true, fingers) = (fits_tuning, fingers?) else { return None };
    let barres = barres(&strings, &fingers);
    let stand_in = form.stand_in.as_ref().map(|stand_in| stand_in.value.clone());
    Some(Shape { name, strings, fingers, barres, stand_in, mute_notes })
}

fn fits(written: &At<String>, found: usize, wanted: usize, who: &str, findings: &mut Findings<'_>) -> bool {
    if found != wanted {
        let message = format!("{} names {found} strings; {who} {wanted}", written.value);
        findings.error(written.span, "strings-count", message, "one a string, the heaviest first");
    }
    found == wanted
}

fn mute_notes(form: &ShapeForm, strings: &[StringUse], findings: &mut Findings<'_>) -> Vec<MuteNote> {
    let count = i64::try_from(strings.len()).expect("a shape has few strings");
    let mut notes = Vec::new();
    for (number, with) in &form.mute {
        let Some(number_from_one) = ranged::<u8>(Some(number), "a string's number", 1..=count, findings) else {
            continue;
        };
        let string = strings.len() - usize::from(number_from_one);
        if strings[string] != StringUse::Muted {
            let message = format!("string {number_from_one} is to be muted, yet the frets let it sound");
            let hint = "string 1 is the lightest, written last; mute it with x in the frets or take this note away";
            findings.error(number.span, "mute-sounds", message, hint);
        }
        notes.push(MuteNote { string, with: text(Some(with)) });
    }
    notes
}

/// The same finger on several strings of one fret lies across them.
fn barres(strings: &[StringUse], fingers: &[Option<Finger>]) -> Vec<Barre> {
    let mut barres: Vec<Barre> = Vec::new();
    for (index, (string, finger)) in strings.iter().zip(fingers).enumerate() {
        let (StringUse::Fret(fret), Some(finger)) = (*string, *finger) else { continue };
        match barres.iter_mut().find(|barre| barre.fret == fret && barre.finger == finger) {
            Some(barre) => barre.to = index,
            None => barres.push(Barre { fret, from: index, to: index, finger }),
        }
    }
    barres.retain(|barre| barre.from < barre.to);
    barres.sort_by_key(|barre| barre.fret);
    barres
}
