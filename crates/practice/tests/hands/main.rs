//! The mechanics of the fretting hand.

mod changes;
mod choosing;
mod fitting;
mod grips;
mod neck;
mod needed;
mod ranking;
mod shapes;
