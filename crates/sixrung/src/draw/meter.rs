//! The level meter: a row of short uprights, lit up to the level.

use egui::{Rect, pos2, vec2};

use super::pen::Pen;

/// Uprights in the meter.
const UPRIGHTS: u16 = 16;

/// How many uprights are lit at a level of 0 to 1; any level above silence lights one.
#[must_use]
pub fn lit(level: f32) -> u16 {
    let level = if level.is_finite() { level.clamp(0.0, 1.0) } else { 0.0 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to UPRIGHTS")]
    let lit = (level * f32::from(UPRIGHTS)).ceil() as u16;
    lit.min(UPRIGHTS)
}

/// Draws the meter in `rect`. `too_loud` says so by taller uprights at its end, not by colour alone.
pub fn paint(pen: &Pen<'_>, rect: Rect, level: f32, too_loud: bool) {
    let pitch = rect.width() / f32::from(UPRIGHTS);
    let lit = lit(level);
    for upright in 0..UPRIGHTS {
        let corner = pos2(rect.left() + pitch * f32::from(upright), rect.top());
        let size = vec2(pitch * 0.72, rect.height());
        let colour = match (upright < lit, too_loud && upright + 3 >= UPRIGHTS) {
            (true, false) => pen.palette().heard,
            (true, true) => pen.palette().late,
            (false, _) => pen.palette().hair,
        };
        let rect = Rect::from_min_size(corner, size);
        let rect = if too_loud && upright + 3 >= UPRIGHTS { rect.expand2(vec2(0.0, 2.0)) } else { rect };
        pen.block(rect, 1.0, colour);
    }
}

#[cfg(test)]
mod tests {
    use super::lit;

    #[test]
    fn any_sound_lights_one_and_full_scale_lights_all() {
        let rows = [(0.0, 0), (0.001, 1), (0.5, 8), (1.0, 16), (7.0, 16), (-1.0, 0), (f32::NAN, 0), (f32::INFINITY, 0)];
        for (level, expected) in rows {
            assert_eq!(lit(level), expected, "{level}");
        }
    }
}
