//! How a player wants things drawn.

pub use sixrung_drawing::Hand;

use super::size::glance_pt;

/// How a player wants things drawn. Kept with the settings; everything on screen follows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Which sheet.
    pub sheet: Sheet,
    /// Size of everything, 0.75 to 3.
    pub scale: f32,
    /// How far away the screen is read, in metres, 0.5 to 3.
    pub distance_m: f32,
    /// Points in a millimetre of this screen, 1.5 to 10: that of 96 dpi until the player holds a card against it.
    pub points_per_mm: f32,
    /// How the fretboard is mirrored.
    pub hand: Hand,
    /// Whether things may move that need not.
    pub motion: Motion,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            sheet: Sheet::Light,
            scale: 1.0,
            distance_m: 0.6,
            points_per_mm: 96.0 / 25.4,
            hand: Hand::Right,
            motion: Motion::Full,
        }
    }
}

impl Look {
    /// The smallest scale.
    pub const MIN_SCALE: f32 = 0.75;
    /// The largest scale.
    pub const MAX_SCALE: f32 = 3.0;
    /// The nearest reading distance, in metres.
    pub const MIN_DISTANCE_M: f32 = 0.5;
    /// The farthest reading distance, in metres.
    pub const MAX_DISTANCE_M: f32 = 3.0;
    /// The coarsest screen: about 38 dpi.
    pub const MIN_POINTS_PER_MM: f32 = 1.5;
    /// The finest: 254 dpi.
    pub const MAX_POINTS_PER_MM: f32 = 10.0;
    /// Width and height of a bank card, in millimetres (ISO/IEC 7810, format ID-1).
    pub const CARD_MM: (f32, f32) = (85.60, 53.98);

    /// The smallest type, in points, for what is read while playing.
    #[must_use]
    pub fn least_pt(&self) -> f32 {
        glance_pt(self.distance_m, self.points_per_mm) * self.scale
    }
}

/// Which paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Sheet {
    /// Warm light paper.
    #[default]
    Light,
    /// Warm dark paper.
    Dark,
    /// Black on white.
    ContrastLight,
    /// White on black.
    ContrastDark,
}

/// Whether things may move that need not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Motion {
    /// The marker climbs in 400 ms.
    #[default]
    Full,
    /// It is simply there.
    Reduced,
}
