//! Playability: whether a hand can hold a shape at all, and whether it can reach it.

#[cfg(test)]
mod tests;

use crate::build::Draft;
use crate::diagnostic::Severity;
use crate::file::v1::{LessonForm, ShapeForm};
use crate::findings::{At, Findings, TextProblem};
use crate::shape::{Finger, Shape, StringUse};
use crate::text::frets::pieces;

/// Open string length of a steel-string guitar, in millimetres (common practice: 645 to 650).
const SCALE_MM: f64 = 650.0;
/// How far apart the outer frets of a shape may lie, in millimetres. Common practice gives each finger one fret; four
/// of them span 97.6 mm at the nut, five 126.6 mm. The limit between them is a design choice of ours, not evidence.
const REACH_MM: f64 = 110.0;
/// The last fret of a neck.
const LAST_FRET: u8 = 24;
/// Strings from which the instrument is taken to be a guitar, whose scale length is known.
const GUITAR_STRINGS: usize = 6;

pub(super) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    let shift = draft.arrangements.iter().map(|arrangement| arrangement.capo_shift).max().unwrap_or(0);
    for (form, shape) in form.shapes.iter().zip(&draft.shapes) {
        let (Some(shape), Some(frets)) = (shape, &form.frets) else { continue };
        let mut hand = Hand { shape, form, frets, findings };
        hand.sounds_at_all();
        match &form.fingers {
            Some(_) => hand.named_fingers(),
            None => hand.enough_fingers(),
        }
        hand.on_the_neck(draft.capo, shift);
        hand.within_reach(draft.capo);
    }
}

/// A wire's distance from the nut or capo: x(n) = L(1 − 2^(−n/12)), equal temperament.
fn wire_mm(fret: u8) -> f64 {
    SCALE_MM * (1.0 - (-f64::from(fret) / 12.0).exp2())
}

struct Hand<'s, 't> {
    shape: &'s Shape,
    form: &'s ShapeForm,
    frets: &'s At<String>,
    findings: &'s mut Findings<'t>,
}

impl Hand<'_, '_> {
    /// A finding under one string's fret.
    fn at_fret(&mut self, severity: Severity, string: usize, (code, message, hint): (&'static str, String, &str)) {
        let (from, piece) = pieces(&self.frets.value)[string];
        let to = from + piece.chars().count();
        self.findings.in_text(severity, self.frets, TextProblem { code, message, hint: hint.to_owned(), from, to });
    }

    /// A finding under one string's finger.
    fn at_finger(&mut self, severity: Severity, string: usize, (code, message, hint): (&'static str, String, &str)) {
        let Some(fingers) = &self.form.fingers else { return };
        let problem = TextProblem { code, message, hint: hint.to_owned(), from: string, to: string + 1 };
        self.findings.in_text(severity, fingers, problem);
    }

    fn number(&self, string: usize) -> usize {
        self.shape.strings.len() - string
    }

    fn sounds_at_all(&mut self) {
        if self.shape.strings.iter().all(|string| *string == StringUse::Muted) {
            let hint = "for no chord, write chord: \"N.C.\" in the entry";
            self.findings.error(self.frets.span, "silent-shape", "no string of this shape sounds", hint);
        }
    }

    fn named_fingers(&mut self) {
        let pairs: Vec<(StringUse, Option<Finger>)> =
            self.shape.strings.iter().copied().zip(self.shape.fingers.iter().copied()).collect();
        for (index, (string, finger)) in pairs.iter().enumerate() {
            let number = self.number(index);
            match (string, finger) {
                (StringUse::Fret(_), None) => {
                    let message = format!("string {number} is fretted, yet no finger is named for it");
                    let hint = "name it 1 to 4 or T, or leave fingers out altogether";
                    self.at_finger(Severity::Warning, index, ("finger-missing", message, hint));
                }
                (StringUse::Open, Some(finger)) => {
                    let message = format!("string {number} rings open, yet finger {} is on it", finger.letter());
                    self.at_finger(Severity::Error, index, ("finger-on-open", message, "write - for an open string"));
                }
                (StringUse::Fret(fret), Some(finger)) => {
                    let frets = pairs[..index].iter().filter(|(_, own)| own.as_ref() == Some(finger));
                    let other = frets.filter_map(|(string, _)| string.fret()).find(|own| own != fret && *own > 0);
                    if let Some(other) = other {
                        let message = format!("finger {} is at fret {other} and at fret {fret}", finger.letter());
                        self.at_finger(
                            Severity::Error,
                            index,
                            ("finger-twice", message, "give one of them another finger"),
                        );
                    }
                }
                _ => {}
            }
        }
        self.barres();
    }

    /// A finger across several strings stops those between at its own fret.
    fn barres(&mut self) {
        for barre in self.shape.barres.clone() {
            for index in barre.from + 1..barre.to {
                let number = self.number(index);
                let finger = barre.finger.letter();
                match self.shape.strings[index] {
                    StringUse::Open => {
                        let message = format!("finger {finger} lies across string {number}, which is to ring open");
                        let hint = "use two fingers, or fret or mute the string";
                        self.at_fret(Severity::Error, index, ("barre-over-open", message, hint));
                    }
                    StringUse::Fret(fret) if fret < barre.fret => {
                        let message = format!(
                            "finger {finger} lies across string {number} at fret {}, above fret {fret}",
                            barre.fret
                        );
                        let hint = "a barre stops every string under it: use another finger";
                        self.at_fret(Severity::Error, index, ("barre-over-open", message, hint));
                    }
                    _ => {}
                }
            }
        }
    }

    /// Without fingers named: can four fingers, barres and the thumb hold it?
    fn enough_fingers(&mut self) {
        let needed = fingers_needed(&self.shape.strings);
        let thumb = matches!(self.shape.strings.first(), Some(StringUse::Fret(_)));
        if needed > 4 + usize::from(thumb) {
            let message = format!("this shape needs {needed} fingers, barres reckoned in");
            let hint = "mute or open a string, or name the fingers if it can be held after all";
            self.findings.error(self.frets.span, "too-many-fingers", message, hint);
        }
    }

    fn on_the_neck(&mut self, capo: u8, shift: u8) {
        for index in 0..self.shape.strings.len() {
            let fret = self.shape.strings[index].fret().unwrap_or(0);
            let from_nut = u16::from(fret) + u16::from(capo) + u16::from(shift);
            if fret > 0 && from_nut > u16::from(LAST_FRET) {
                let message = format!("fret {fret} with the capo at {} is fret {from_nut}", capo + shift);
                self.at_fret(Severity::Error, index, ("beyond-neck", message, "a neck has 24 frets at most"));
            }
        }
    }

    fn within_reach(&mut self, capo: u8) {
        if self.shape.strings.len() < GUITAR_STRINGS {
            return;
        }
        let stopped =
            self.shape.strings.iter().zip(&self.shape.fingers).enumerate().filter_map(|(index, (string, finger))| {
                let fret = string.fret().filter(|fret| *fret > 0 && *finger != Some(Finger::Thumb))?;
                Some((fret.saturating_add(capo), index))
            });
        let stopped: Vec<(u8, usize)> = stopped.collect();
        let (Some((low, _)), Some((high, string))) = (stopped.iter().min(), stopped.iter().max()) else { return };
        let span_mm = wire_mm(*high) - wire_mm(*low);
        if span_mm > REACH_MM {
            let message = format!("this shape spans {span_mm:.0} mm; most hands reach {REACH_MM:.0}");
            let hint = "play it higher up the neck or with the capo higher, or leave out its outer fret";
            self.at_fret(Severity::Warning, *string, ("beyond-reach", message, hint));
        }
    }
}

/// The fewest fingers that hold these frets: strings of one fret share a finger unless a lower or open one lies between.
fn fingers_needed(strings: &[StringUse]) -> usize {
    let mut needed = 0;
    for (index, string) in strings.iter().enumerate() {
        let StringUse::Fret(fret) = string else { continue };
        let shares = strings[..index]
            .iter()
            .rev()
            .take_while(|between| between.fret().is_none_or(|own| own >= *fret))
            .any(|between| between == string);
        needed += usize::from(!shares);
    }
    needed
}
