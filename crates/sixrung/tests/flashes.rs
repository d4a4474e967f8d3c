//! Nothing flashes more than three times in any second (WCAG 2.2, 2.3.1), read from pictures of the stand from 40 to 300
//! beats a minute, in eighths, triplets and sixteenths.
//!
//! WCAG's general flash: a pair of opposing changes of relative luminance by a tenth of the largest or more, where the
//! darker is below .80, over a quarter or more of any rectangle of 341 × 256 pixels of a window of 1024 × 768.

#[expect(dead_code, reason = "one moment of the samples is looked at")]
mod sample;

use std::sync::Arc;

use egui::vec2;
use egui_kittest::Harness;
use sixrung::stand::{BarStrip, Phase, StandView, stand_ui};
use sixrung::theme::{Look, Sheet, install};

/// Two thirds of the smallest window, and of the rectangle; every other pixel of every other row is looked at.
const WINDOW: (u32, u32) = (640, 400);
const SIZE: (u32, u32) = (WINDOW.0 / 2, WINDOW.1 / 2);
const BLOCK: (u32, u32) = (114, 85);
/// As many as a screen shows in a second.
const FRAMES: u16 = 60;

/// What plays: beats a minute, slots of a bar of four, or a count-in.
#[derive(Clone, Copy, Debug)]
struct Shown {
    sheet: Sheet,
    bpm: f32,
    slots: u8,
    counts: bool,
}

/// The stand `at_s` seconds into a second of playing, or of counting in.
fn moment(shown: Shown, strip: &Arc<BarStrip>, at_s: f32) -> StandView {
    let look = Look { sheet: shown.sheet, ..Look::default() };
    let view = StandView { look, bar: Some(Arc::clone(strip)), next_bar: Some(Arc::clone(strip)), ..sample::playing() };
    let share = (at_s * shown.bpm / 240.0).fract();
    if shown.counts {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a beat")]
        let beat = (share * 4.0) as u32 + 1;
        return StandView { phase: Phase::CountIn { beat, of: 4 }, cursor: None, sounding: None, ..view };
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a slot")]
    let sounding = ((share * f32::from(shown.slots)) as usize).min(usize::from(shown.slots) - 1);
    StandView { cursor: Some(share), sounding: Some(sounding), ..view }
}

/// A bar of four in which every slot is struck.
fn strip(slots: u8) -> Arc<BarStrip> {
    let counts = match slots {
        8 => "1 & 2 & 3 & 4 &",
        12 => "1 & a 2 & a 3 & a 4 & a",
        _ => "1 e & a 2 e & a 3 e & a 4 e & a",
    };
    let strokes = ["D", "U"].into_iter().cycle().take(usize::from(slots)).collect::<Vec<_>>().join(" ");
    Arc::new(sample::bar(&strokes, counts, 4))
}

/// Relative luminance of every pixel (WCAG 2.2), frame by frame.
fn second(shown: Shown) -> Vec<Vec<f32>> {
    let at = std::rc::Rc::new(std::cell::Cell::new(0.0_f32));
    let seen = std::rc::Rc::clone(&at);
    let strip = strip(shown.slots);
    let app = move |ui: &mut egui::Ui| {
        let window = ui.ctx().content_rect();
        let ui = &mut ui.new_child(egui::UiBuilder::new().max_rect(window));
        stand_ui(ui, &moment(shown, &strip, seen.get()), &mut Vec::new());
    };
    #[expect(clippy::cast_precision_loss, reason = "pixels")]
    let size = vec2(WINDOW.0 as f32, WINDOW.1 as f32);
    let linear = linear();
    let mut harness = Harness::builder().with_size(size).with_context_setup(install).wgpu().build_ui(app);
    (0..FRAMES)
        .map(|frame| {
            at.set(f32::from(frame) / f32::from(FRAMES));
            harness.run_steps(1);
            let picture = harness.render().expect("a renderer is there");
            let seen = (0..SIZE.1).flat_map(|y| (0..SIZE.0).map(move |x| (2 * x, 2 * y)));
            seen.map(|(x, y)| picture.get_pixel(x, y))
                .map(|pixel| weigh(&linear, [pixel[0], pixel[1], pixel[2]]))
                .collect()
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

#[test]
fn the_stand_never_flashes_more_than_three_times_a_second() {
    let allowed = BLOCK.0 * BLOCK.1 / 4;
    // The fastest of each grid, a slow one, and a count-in; on the other sheets the two that change most.
    let (fast, count) = ((300.0, 16, false), (300.0, 8, true));
    let all = [fast, (300.0, 12, false), (40.0, 8, false), count];
    for (sheet, shown) in [(Sheet::Light, &all[..]), (Sheet::ContrastDark, &[fast, count])] {
        for (bpm, slots, counts) in shown.iter().copied() {
            let shown = Shown { sheet, bpm, slots, counts };
            let worst = worst_block(&flashes(&second(shown)));
            assert!(worst < allowed, "{shown:?}: {worst} pixels flash too often, {allowed} are too many");
        }
    }
}

#[test]
fn a_sheet_that_goes_dark_and_bright_in_turn_is_found() {
    let pixels = (SIZE.0 * SIZE.1) as usize;
    let blinking: Vec<Vec<f32>> =
        (0..FRAMES).map(|frame| vec![if frame % 12 < 6 { 0.9 } else { 0.1 }; pixels]).collect();
    let flashes = flashes(&blinking);
    assert_eq!((flashes[0], worst_block(&flashes)), (4, BLOCK.0 * BLOCK.1));
    // Three of them are none too many.
    let slower: Vec<Vec<f32>> = (0..FRAMES).map(|frame| vec![if frame % 20 < 10 { 0.9 } else { 0.1 }; 1]).collect();
    assert!(self::flashes(&slower)[0] <= 3);
}
