//! The pages that lie over the stand: lessons, sections and arrangements, sound, appearance and keys.

mod view;

pub use view::{
    ArrangementItem, InputItem, LessonItem, LessonsView, OutputItem, PageView, RoundTrip, SectionItem, SectionsView,
    SoundView,
};
