//! Points, rectangles and hands.

use std::ops::{Add, Mul, Sub};

/// A place, or the way from one place to another. y grows downward.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f32,
    /// Down.
    pub y: f32,
}

impl Point {
    /// `x` to the right, `y` down.
    #[must_use]
    pub const fn new(x: f32, y: f32) -> Self {
        Self { x, y }
    }

    /// As long, turned by a right angle.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { x: self.y, y: -self.x }
    }

    /// The same way one point long; nowhere stays nowhere.
    #[must_use]
    pub fn one_long(self) -> Self {
        let length = self.x.hypot(self.y);
        if length > 0.0 { self * (1.0 / length) } else { self }
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y }
    }
}

impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { x: self.x - other.x, y: self.y - other.y }
    }
}

impl Mul<f32> for Point {
    type Output = Self;
    fn mul(self, times: f32) -> Self {
        Self { x: self.x * times, y: self.y * times }
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Its left top corner.
    pub min: Point,
    /// Its right bottom corner.
    pub max: Point,
}

impl Rect {
    /// From its left top and right bottom corners.
    #[must_use]
    pub const fn new(min: Point, max: Point) -> Self {
        Self { min, max }
    }

    /// From its left top corner, its width and its height.
    #[must_use]
    pub const fn sized(min: Point, width: f32, height: f32) -> Self {
        Self { min, max: Point::new(min.x + width, min.y + height) }
    }

    /// Its width.
    #[must_use]
    pub const fn width(&self) -> f32 {
        self.max.x - self.min.x
    }

    /// Its height.
    #[must_use]
    pub const fn height(&self) -> f32 {
        self.max.y - self.min.y
    }

    /// Its middle.
    #[must_use]
    pub const fn middle(&self) -> Point {
        Point::new(f32::midpoint(self.min.x, self.max.x), f32::midpoint(self.min.y, self.max.y))
    }
}

/// Which hand strums.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Hand {
    /// Heavier strings are drawn to the left.
    #[default]
    Right,
    /// Heavier strings are drawn to the right.
    Left,
}
