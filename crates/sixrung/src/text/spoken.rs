//! Names that are read aloud for what is drawn.

use crate::stand::{
    BarStrip, ChordView, LadderView, MapView, MarkKind, NextChord, PlotView, ResultView, RungState, SlotView,
    StringMark,
};

/// The ladder in words.
#[must_use]
pub fn ladder_name(view: &LadderView) -> String {
    let tempo = view.rungs.get(view.current).map_or("", |rung| rung.bpm.as_str());
    format!(
        "tempo {tempo}, rung {} of {}, {} of {} clean passes. {}",
        view.current + 1,
        view.rungs.len(),
        view.pegs_filled,
        view.pegs_total,
        view.sentence
    )
}

/// A rung in words.
#[must_use]
pub fn rung_name(view: &LadderView, rung: usize) -> String {
    let Some(seen) = view.rungs.get(rung) else { return String::new() };
    let state = match (rung == view.current, seen.state) {
        (true, _) => ", you are here",
        (false, RungState::Ahead) => "",
        (false, RungState::Known) => ", climbed",
        (false, RungState::Held) => ", held",
    };
    format!("tempo {}, {} per cent{state}", seen.bpm, seen.percent)
}

/// The bar map in words.
#[must_use]
pub fn map_name(view: &MapView) -> String {
    let chosen = view.chosen.clone().unwrap_or(0..view.bars.len());
    let number = |at: usize| view.bars.get(at).map_or(0, |bar| bar.number);
    format!("bars {} to {} of {}", number(chosen.start), number(chosen.end.saturating_sub(1)), view.bars.len())
}

/// What became of a pass, in a few sentences.
#[must_use]
pub fn result(result: &ResultView) -> String {
    let lines = [&result.headline, &result.detail, &result.quiet, &result.focus];
    let said: Vec<&str> = lines.into_iter().map(|line| line.trim()).filter(|line| !line.is_empty()).collect();
    said.join(" ")
}

/// When the next pass comes by itself.
#[must_use]
pub fn goes_on_in(seconds: u32, listens: bool) -> String {
    let seconds = if seconds == 1 { "1 second".to_owned() } else { format!("{seconds} seconds") };
    if listens {
        format!("in {seconds} the part is played to you first")
    } else {
        format!("in {seconds} the next pass is counted in")
    }
}

/// The plot in words.
#[must_use]
pub fn plot_name(plot: &PlotView) -> String {
    let count = |kind| plot.marks.iter().filter(|mark| mark.kind == kind).count();
    let counts = format!(
        "{} in time, {} late, {} early, {} missed, {} extra",
        count(MarkKind::InTime),
        count(MarkKind::Late),
        count(MarkKind::Early),
        count(MarkKind::Missed),
        count(MarkKind::Extra)
    );
    let chords = plot.chords.iter().flat_map(|chord| {
        let heard = chord.heard.as_ref().map(|heard| format!("{} {}", chord.name, super::heard_instead(heard)));
        let string =
            |mark: &StringMark| format!("{} string {} {}", chord.name, mark.number, super::string_fault(mark.fault));
        heard.into_iter().chain(chord.strings.iter().map(string)).collect::<Vec<_>>()
    });
    std::iter::once(counts).chain(chords).collect::<Vec<_>>().join("; ")
}

/// A chord and where its fingers go, string by string.
#[must_use]
pub fn chord_name(label: &str, chord: &ChordView) -> String {
    let frets = chord.shape.as_ref().map(|shape| {
        let string =
            |used: &sixrung_lesson::StringUse| used.fret().map_or_else(|| "x".to_owned(), |fret| fret.to_string());
        format!(", strings {}", shape.strings.iter().map(string).collect::<Vec<_>>().join(" "))
    });
    format!("{label} {}{}", chord.name, frets.unwrap_or_default())
}

/// The coming chord and when it comes.
#[must_use]
pub fn next_name(next: &NextChord) -> String {
    format!("{}, {}", chord_name(super::NEXT, &next.chord), super::in_beats(next.beats_left))
}

/// A bar's strokes with their counts.
#[must_use]
pub fn bar_name(bar: &BarStrip) -> String {
    let stroke = |slot: &SlotView| match super::stroke_letter(slot.action, slot.direction) {
        "" => format!("{} –", slot.count),
        letter => format!("{} {letter}", slot.count),
    };
    format!("strokes: {}", bar.slots.iter().map(stroke).collect::<Vec<_>>().join(", "))
}
