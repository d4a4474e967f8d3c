//! How a player wants things drawn.

pub use sixrung_drawing::Hand;

/// How a player wants things drawn. Kept with the settings; everything on screen follows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Which sheet.
    pub sheet: Sheet,
    /// Size of everything, 0.75 to 3.
    pub scale: f32,
    /// How far away the screen is read, in metres, 0.5 to 3.
    pub distance_m: f32,
    /// How the fretboard is mirrored.
    pub hand: Hand,
    /// Whether things may move that need not.
    pub motion: Motion,
}

impl Default for Look {
    fn default() -> Self {
        Self { sheet: Sheet::Light, scale: 1.0, distance_m: 0.6, hand: Hand::Right, motion: Motion::Full }
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
