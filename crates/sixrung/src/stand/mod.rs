//! The stand: the sheet with what to play, the ladder beside it, the line with what can be done.

mod intent;
mod view;

pub use intent::{InputChoice, Intent, LessonSource, Page, Part, SectionChoice};
pub use view::{
    BarStrip, ChordSpan, ChordView, ChordsView, HearingState, HearingView, LadderView, MapBar, MapView, MarkKind,
    NextChord, Note, Pause, Phase, PlaceView, PlotMark, PlotView, Proposal, ResultView, RungState, RungView, SlotView,
    StandView, SyllableView, Volumes, WordLineView, WordsView,
};
