//! fundsp's Karplus–Strong unit, six of them added up: no stiffness, no box, one channel.

use fundsp::prelude32::{An, Pluck, pluck};

use crate::cost::{BLOCK, Player};
use crate::score::{CHORD, RATE, Stroke};

/// Six strings.
pub(crate) struct Plucks {
    strings: Vec<An<Pluck>>,
}

impl Plucks {
    pub(crate) fn new() -> Self {
        let string = |key: u8| {
            let mut string = pluck(440.0 * ((f32::from(key) - 69.0) / 12.0).exp2(), 0.4, 0.3);
            string.set_sample_rate(f64::from(RATE));
            string
        };
        Self { strings: CHORD.into_iter().map(string).collect() }
    }
}

impl Player for Plucks {
    fn name(&self) -> &'static str {
        "fundsp 0.23, six `pluck`"
    }

    fn strike(&mut self, stroke: &Stroke) {
        self.strings[usize::from(stroke.string)].reset();
    }

    fn block(&mut self, left: &mut [f32; BLOCK], right: &mut [f32; BLOCK]) {
        left.fill(0.0);
        for string in &mut self.strings {
            for sample in left.iter_mut() {
                *sample += 0.1 * string.tick(&[0.0].into())[0];
            }
        }
        right.copy_from_slice(left);
    }
}
