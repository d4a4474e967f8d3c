//! What the sheet shows of the last pass.

use std::ops::Range;
use std::sync::Arc;

use sixrung_lesson::Direction;
use sixrung_listen::StringFault;

use crate::stand::Voice;

/// A pass as it was heard.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ResultView {
    /// One or three words: `Clean.`, `Not clean yet.`, `Not judged.`
    pub headline: String,
    /// What stands out, for example `44 of 48 strokes in time.`
    pub detail: String,
    /// What is fine, or why the program could not say, in quiet ink; may be empty.
    pub quiet: String,
    /// The plot; `None` when nothing was heard to plot.
    pub plot: Option<Arc<PlotView>>,
    /// What to work on, above the proposal, for example `the bar that holds this section back`; may be empty.
    pub focus: String,
    /// One quiet line that leads to the page where chords are heard; empty when it is not offered.
    pub offer: String,
    /// The worst bar, which can be heard again; `None` when its sound is not kept.
    pub hear: Option<HearAgainView>,
}

/// A bar of the last pass that can be heard again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HearAgainView {
    /// Its number as printed.
    pub bar: u32,
    /// Who is heard just now.
    pub playing: Option<Voice>,
    /// Whether at half the tempo.
    pub slowly: bool,
}

/// The strokes of a pass along its bars: time to the right, late above, early below.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlotView {
    /// Every stroke expected, and every one not asked for.
    pub marks: Vec<PlotMark>,
    /// Half width of the window, in milliseconds; where it varies the widest one.
    pub window_ms: f32,
    /// Where bars begin, as fractions of the stretch, without 0 and 1.
    pub bar_lines: Vec<f32>,
    /// The chords along the stretch.
    pub chords: Vec<ChordSpan>,
    /// Number of the worst bar as printed; `None` when none stands out.
    pub worst_bar: Option<u32>,
}

/// A stretch of one chord in a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct ChordSpan {
    /// From where to where, as fractions of the stretch.
    pub span: Range<f32>,
    /// The chord asked for.
    pub name: String,
    /// What was heard instead: `None` when it was right or could not be told.
    pub heard: Option<String>,
    /// Strings that were not as the shape has them, the heaviest first.
    pub strings: Vec<StringMark>,
}

/// A string that was not as it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StringMark {
    /// Its number as players count: 1 is the lightest.
    pub number: u8,
    /// What is wrong with it.
    pub fault: StringFault,
}

/// One stroke in a plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlotMark {
    /// Where it was expected (an extra one: where it was heard), as a fraction of the stretch.
    pub at: f32,
    /// How late, in milliseconds, the player's own bias taken out; early is negative; 0 where there is none.
    pub offset_ms: f32,
    /// What became of it.
    pub kind: MarkKind,
    /// Which way it was heard to go, where the other way was asked.
    pub other_way: Option<Direction>,
}

/// What became of a stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// Inside the window: a dot.
    InTime,
    /// After it: a mark pointing right.
    Late,
    /// Before it: a mark pointing left.
    Early,
    /// Not heard: a ring.
    Missed,
    /// Heard, not asked for: a small cross.
    Extra,
}
