//! `cargo run -p sixrung --example flashes`: nothing flashes more than three times in any second (WCAG 2.2, 2.3.1), read from pictures of the stand at 300 beats a
//! minute, in sixteenths: the fastest that can be asked for.
//!
//! WCAG's general flash: a pair of opposing changes of relative luminance by a tenth of the largest or more, where the
//! darker is below .80, over a quarter or more of any rectangle of 341 × 256 pixels.

#[expect(dead_code, reason = "one moment of the samples is looked at")]
#[path = "../tests/sample/mod.rs"]
mod sample;

use egui::vec2;
use egui_kittest::Harness;
use sixrung::stand::{Phase, StandView, stand_ui};
use sixrung::theme::{Look, Sheet, install};

const SIZE: (u32, u32) = (960, 600);
const FRAMES: u16 = 24;
/// A bar of four at 300 beats a minute, in seconds.
const BAR_S: f32 = 0.8;
const BLOCK: (u32, u32) = (341, 256);

/// The stand `at_s` seconds into a second of playing, or of counting in.
fn moment(look: Look, at_s: f32, counts: bool) -> StandView {
    let view = StandView { look, ..sample::playing() };
    let share = (at_s / BAR_S).fract();
    if counts {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a beat")]
        let beat = (share * 4.0) as u32 + 1;
        return StandView { phase: Phase::CountIn { beat, of: 4 }, cursor: None, sounding: None, ..view };
    }
    let slots = view.bar.as_ref().map_or(1, |bar| bar.slots.len());
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a slot")]
    let sounding = ((share * slots as f32) as usize).min(slots - 1);
    StandView { cursor: Some(share), sounding: Some(sounding), ..view }
}

/// Relative luminance of every pixel (WCAG 2.2), frame by frame.
fn second(look: Look, counts: bool) -> Vec<Vec<f32>> {
    let at = std::rc::Rc::new(std::cell::Cell::new(0.0_f32));
    let seen = std::rc::Rc::clone(&at);
    let app = move |ui: &mut egui::Ui| {
        let window = ui.ctx().content_rect();
        let ui = &mut ui.new_child(egui::UiBuilder::new().max_rect(window));
        stand_ui(ui, &moment(look, seen.get(), counts), &mut Vec::new());
    };
    #[expect(clippy::cast_precision_loss, reason = "pixels")]
    let size = vec2(SIZE.0 as f32, SIZE.1 as f32);
    let linear = linear();
    let mut harness = Harness::builder().with_size(size).with_context_setup(install).wgpu().build_ui(app);
    (0..FRAMES)
        .map(|frame| {
            at.set(f32::from(frame) / f32::from(FRAMES));
            harness.run_steps(1);
            let picture = harness.render().expect("a renderer is there");
            picture.pixels().map(|pixel| weigh(&linear, [pixel[0], pixel[1], pixel[2]])).collect()
        })
        .collect()
}

/// Every channel value made linear (sRGB, IEC 61966-2-1).
fn linear() -> Vec<f32> {
    let channel = |value: u16| {
        let share = f32::from(value) / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    (0..256).map(channel).collect()
}

fn weigh(linear: &[f32], [r, g, b]: [u8; 3]) -> f32 {
    0.2126 * linear[r as usize] + 0.7152 * linear[g as usize] + 0.0722 * linear[b as usize]
}

/// How often each pixel goes up and down again, or down and up, by a tenth or more.
fn flashes(frames: &[Vec<f32>]) -> Vec<u32> {
    let count = frames[0].len();
    (0..count)
        .map(|pixel| {
            let (mut turns, mut from, mut way) = (0, frames[0][pixel], 0_i8);
            for frame in frames {
                let (low, high) = (frame[pixel].min(from), frame[pixel].max(from));
                if high - low < 0.1 || low >= 0.8 {
                    continue;
                }
                let now = if frame[pixel] > from { 1 } else { -1 };
                turns += u32::from(now != way);
                (from, way) = (frame[pixel], now);
            }
            turns / 2
        })
        .collect()
}

/// The most pixels that flash too often in any rectangle of [`BLOCK`], by sums over columns and rows.
fn worst_block(flashes: &[u32]) -> u32 {
    let (width, height) = (SIZE.0 as usize, SIZE.1 as usize);
    let (block, tall) = (BLOCK.0 as usize, BLOCK.1 as usize);
    let mut sums = vec![0_u32; (width + 1) * (height + 1)];
    for y in 0..height {
        for x in 0..width {
            let here = u32::from(flashes[y * width + x] > 3);
            let at = |y: usize, x: usize| y * (width + 1) + x;
            sums[at(y + 1, x + 1)] = here + sums[at(y, x + 1)] + sums[at(y + 1, x)] - sums[at(y, x)];
        }
    }
    let at = |y: usize, x: usize| sums[y * (width + 1) + x];
    let places = (0..=height - tall).flat_map(|y| (0..=width - block).map(move |x| (y, x)));
    places.map(|(y, x)| at(y + tall, x + block) + at(y, x) - at(y, x + block) - at(y + tall, x)).max().unwrap_or(0)
}

fn main() {
    let mut ends_well = true;
    for (sheet, counts) in [(Sheet::Light, true), (Sheet::Light, false), (Sheet::Dark, true), (Sheet::Dark, false)] {
        let look = Look { sheet, ..Look::default() };
        let worst = worst_block(&flashes(&second(look, counts)));
        let allowed = BLOCK.0 * BLOCK.1 / 4;
        println!(
            "{sheet:?}, counting in {counts}: {worst} pixels flash more than three times, {allowed} would be too many"
        );
        ends_well &= worst < allowed;
    }
    // A sheet that goes dark and bright in turn would be found.
    let blinking: Vec<Vec<f32>> =
        (0..FRAMES).map(|frame| vec![if frame.is_multiple_of(2) { 0.9 } else { 0.1 }]).collect();
    ends_well &= flashes(&blinking)[0] > 3;
    std::process::exit(i32::from(!ends_well));
}
