//! What our strings cost beside general libraries that play the same strokes: six-string strums of E major in eighths
//! at 120 bpm, 48 kHz, blocks of 64 frames, thread CPU time; and, as whole processes, beside fluidsynth.
//!
//! `cargo bench -p sixrung-speed` takes about a minute and prints two tables. The sampled libraries play the sound font
//! that the environment variable `SOUND_FONT` names, else one of Debian's; without one they are left out, and it says
//! so. Effects are off everywhere. Peers hear no click, no box and no limiter: ours plays all of them.

mod cost;
mod ours;
mod process;
mod sampled;
mod score;
mod unit;

use cost::{Player, ns_a_frame};
use ours::Ours;
use sampled::{Oxi, Rusty, sound_font};
use unit::Plucks;

/// Every player is measured this often, in turn; the middle one counts.
const ROUNDS: usize = 5;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if let Some(at) = arguments.iter().position(|argument| argument == "--render") {
        return process::render(arguments.get(at + 1).map_or("60", String::as_str));
    }
    // `cargo bench -- --test` only sees that everything runs.
    let seconds = if arguments.iter().any(|argument| argument == "--test") { 1 } else { 20 };
    let font = sound_font();
    side_by_side(font.as_deref(), seconds);
    ours::block_and_ring_out(seconds);
    process::side_by_side(font.as_deref(), seconds);
}

fn side_by_side(font: Option<&std::path::Path>, seconds: u32) {
    let mut players: Vec<Box<dyn Player>> = vec![Box::new(Ours::new()), Box::new(Plucks::new())];
    match font {
        Some(font) => {
            println!("sound font: {}", font.display());
            players.push(Box::new(Rusty::new(font)));
            players.push(Box::new(Oxi::new(font)));
        }
        None => println!("no sound font (set SOUND_FONT): rustysynth, oxisynth and fluidsynth are left out"),
    }
    let mut costs = vec![Vec::new(); players.len()];
    for _ in 0..ROUNDS {
        for (player, costs) in players.iter_mut().zip(&mut costs) {
            costs.push(ns_a_frame(player.as_mut(), seconds));
        }
    }
    println!("\n| six-string eighths at 120 bpm | ns/frame | times ours |\n|---|---|---|");
    let ours = cost::middle(&mut costs[0].clone());
    for (player, costs) in players.iter().zip(&mut costs) {
        let cost = cost::middle(costs);
        println!("| {} | {cost:.1} | {:.2} |", player.name(), cost / ours);
    }
    let sampled = costs.iter_mut().skip(2).map(|costs| cost::middle(costs)).fold(f64::INFINITY, f64::min);
    if sampled.is_finite() {
        println!("ours is {:.2} of the fastest sampled one", ours / sampled);
    }
}
