//! Meters, beat units and grids as a lesson writes them.

use super::at_token;
use crate::findings::TextProblem;
use crate::meter::{BeatUnit, Meter};
use crate::nearest::did_you_mean;
use crate::pattern::Grid;

/// Reads `4/4`.
pub(crate) fn parse_meter(text: &str) -> Result<Meter, Vec<TextProblem>> {
    let numbers = text.split_once('/').and_then(|(count, unit)| Some((count.trim(), unit.trim().parse().ok()?)));
    numbers.and_then(|(count, unit)| Meter::new(count.parse().ok()?, unit)).ok_or_else(|| {
        let hint = "a meter is 1 to 16 halves, quarters, eighths or sixteenths: \"4/4\", \"6/8\"";
        vec![at_token("bad-meter", (0, text), format!("\"{text}\" is not a meter"), hint)]
    })
}

/// Reads `dotted quarter`.
pub(crate) fn parse_beat(text: &str) -> Result<BeatUnit, Vec<TextProblem>> {
    Ok(match text {
        "eighth" => BeatUnit::Eighth,
        "quarter" => BeatUnit::Quarter,
        "dotted quarter" => BeatUnit::DottedQuarter,
        "half" => BeatUnit::Half,
        _ => {
            let hint = did_you_mean(text, &["eighth", "quarter", "dotted quarter", "half"], "");
            return Err(vec![at_token("bad-beat", (0, text), format!("\"{text}\" is not a beat"), hint)]);
        }
    })
}

/// Reads `eighths` or `swung eighths 2:1`.
pub(crate) fn parse_grid(text: &str) -> Result<Grid, Vec<TextProblem>> {
    let problem = |hint: String| Err(vec![at_token("bad-grid", (0, text), format!("\"{text}\" is not a grid"), hint)]);
    Ok(match text {
        "quarters" => Grid::Quarters,
        "eighths" => Grid::Eighths,
        "triplets" => Grid::Triplets,
        "sixteenths" => Grid::Sixteenths,
        _ => match text.strip_prefix("swung eighths") {
            Some(ratio) => match swing(ratio) {
                Some((long, short)) => Grid::SwungEighths { long, short },
                None => return problem("write the ratio of the two, each 1 to 16: \"swung eighths 2:1\"".to_owned()),
            },
            None => {
                let grids = ["quarters", "eighths", "swung eighths 2:1", "triplets", "sixteenths"];
                return problem(did_you_mean(text, &grids, ""));
            }
        },
    })
}

fn swing(ratio: &str) -> Option<(u8, u8)> {
    let (long, short) = ratio.trim().split_once(':')?;
    let part = |text: &str| text.trim().parse().ok().filter(|part| (1..=16).contains(part));
    Some((part(long)?, part(short)?))
}
