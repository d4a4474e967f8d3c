//! What the pages over the stand show.

use sixrung_devices::{Choice, OutputChoice, list};
use sixrung_lesson::{Tuning, section_bars};
use sixrung_practice::Moment;

use super::Studio;
use super::desk::{Told, Tune};
use crate::library::{DEMOS, Source};
use crate::pages::{
    ArrangementItem, InputItem, LessonItem, LessonsView, OutputItem, PageView, PartsView, SectionItem, SectionsView,
    SoundView, TunedString, TunerView,
};
use crate::session::bpm;
use crate::stand::{InputChoice, LessonSource, Page, SectionChoice};

/// Buffer sizes to choose from, in frames.
const BUFFERS: [u32; 6] = [128, 256, 512, 1024, 2048, 4096];

impl Studio {
    /// Another page over the stand, or none: what the old one had the ear do ends before what the new one needs begins.
    pub(super) fn show_page(&mut self, page: Option<Page>, now: Moment) {
        self.stop_measuring(now);
        if page != Some(Page::Song) {
            self.stop_song();
        }
        if page != self.page {
            self.leave_page();
        }
        match page {
            Some(Page::Chords) => self.hear_chords(super::chords::Which::Unknown),
            Some(Page::Tuner) => {
                self.only_string = None;
                self.tell(Told::Tune(Some(self.tune_to())));
            }
            Some(Page::Shapes) => self.open_shapes(),
            Some(Page::Changes) => self.open_changes(),
            Some(Page::Journal) => self.open_journal(now),
            Some(Page::HandOver) => self.open_hand_over(now),
            Some(Page::Guide) => self.open_guide(),
            _ => {}
        }
        self.page = page;
    }

    fn leave_page(&mut self) {
        match self.page {
            Some(Page::Chords) => self.tell(Told::HearChords(None)),
            Some(Page::Tuner) => self.tell(Told::Tune(None)),
            Some(Page::Shapes) => self.close_shapes(),
            Some(Page::Changes) => self.close_changes(),
            _ => {}
        }
    }

    /// The page over the stand as it is now; `None` when none is open. Asks the system for its devices: keep it while
    /// the page stays open.
    #[must_use]
    pub fn page_view(&self, now: Moment) -> Option<PageView> {
        Some(match self.page? {
            Page::Lessons => PageView::Lessons(self.lessons()),
            Page::Sections => PageView::Sections(self.sections()),
            Page::Sound => PageView::Sound(self.sound_page()),
            Page::Parts => {
                let settings = self.session.settings();
                PageView::Parts(PartsView {
                    volumes: settings.volumes,
                    click: settings.click,
                    strings: settings.strings,
                    hears_first: !settings.heard_on_request,
                })
            }
            Page::Calibrate => PageView::Calibrate(self.calibrate_page()),
            Page::Tuner => PageView::Tuner(self.tuner_page()),
            Page::Chords => PageView::Chords(Box::new(self.chords_page(now))),
            Page::Song => PageView::Song(Box::new(self.song_page())),
            Page::Today => PageView::Today(self.today_page()),
            Page::Path => PageView::Path(self.session.path_view()?),
            Page::Shapes => PageView::Shapes(Box::new(self.shapes_page(now))),
            Page::Changes => PageView::Changes(Box::new(self.changes_page())),
            Page::Journal => PageView::Journal(Box::new(self.journal_page())),
            Page::HandOver => PageView::HandOver(Box::new(self.hand_over_page())),
            Page::Guide => PageView::Guide(Box::new(self.guide_page())),
            Page::Signs => PageView::Signs,
            Page::Care => PageView::Care,
            Page::Look => PageView::Look(self.session.settings().look, self.pedals.names()),
        })
    }

    fn lessons(&self) -> LessonsView {
        let open = self.session.stage().map(|stage| &stage.source);
        let item = |source: Source| {
            let lesson = source.lesson()?;
            let meter = format!("{}/{}", lesson.meter.count(), lesson.meter.unit());
            let detail = [lesson.key.clone(), meter, format!("{} bpm", bpm(lesson.tempo))];
            let detail: Vec<_> = detail.into_iter().filter(|part| !part.is_empty()).collect();
            Some(LessonItem {
                title: lesson.title,
                detail: detail.join(" · "),
                open: open == Some(&source),
                source: match source {
                    Source::Demo(name) => LessonSource::Demo(name.to_owned()),
                    Source::File(path) => LessonSource::File(path),
                },
            })
        };
        let files = self.recent.iter().filter(|source| matches!(source, Source::File(_))).cloned();
        LessonsView {
            demos: DEMOS.iter().filter_map(|(name, _)| item(Source::Demo(name))).collect(),
            recent: files.filter_map(item).collect(),
            problems: self.problems.clone(),
        }
    }

    fn sections(&self) -> SectionsView {
        let Some(stage) = self.session.stage() else { return SectionsView::default() };
        let item = |(index, section): (usize, &sixrung_lesson::Section)| {
            let bars = section_bars(&stage.lesson, &section.name, &stage.arrangement).unwrap_or(0);
            let choice = SectionChoice::Section(index);
            let detail = if bars == 1 { "1 bar".to_owned() } else { format!("{bars} bars") };
            SectionItem { name: section.name.clone(), detail, choice, chosen: stage.section == choice }
        };
        let mut sections: Vec<_> = stage.lesson.sections.iter().enumerate().map(item).collect();
        sections.push(SectionItem {
            name: crate::text::WHOLE_PIECE.to_owned(),
            detail: stage.lesson.form.join(", "),
            choice: SectionChoice::Whole,
            chosen: stage.section == SectionChoice::Whole,
        });
        let arrangements = stage.lesson.arrangements.iter().map(|arrangement| {
            let mut parts = Vec::new();
            if arrangement.stand_ins {
                parts.push("easier shapes".to_owned());
            }
            parts.extend(arrangement.options.iter().cloned());
            if arrangement.capo_shift > 0 {
                parts.push(format!("capo {} up", arrangement.capo_shift));
            }
            ArrangementItem {
                name: arrangement.name.clone(),
                detail: parts.join(", "),
                chosen: arrangement.name == stage.arrangement.name,
            }
        });
        SectionsView { sections, arrangements: arrangements.collect() }
    }

    /// What the tuner shows now.
    pub(crate) fn tuner_page(&self) -> TunerView {
        let Tune { tuning, capo, string } = self.tune_to();
        let strings = tuning
            .open()
            .iter()
            .enumerate()
            .map(|(index, open)| TunedString { number: tuning.number(index), pitch: open.up(capo) });
        TunerView {
            strings: strings.collect(),
            sounding: self.session.tuned(),
            only: string,
            capo,
            hearing: self.session.hearing(),
        }
    }

    /// The strings of the lesson on the stand, or a guitar's.
    pub(super) fn tune_to(&self) -> Tune {
        let string = self.only_string;
        match self.session.stage() {
            Some(stage) => {
                let capo = stage.lesson.capo + stage.arrangement.capo_shift;
                Tune { tuning: stage.lesson.tuning.clone(), capo, string }
            }
            None => Tune { tuning: Tuning::standard_guitar(), capo: 0, string },
        }
    }

    fn sound_page(&self) -> SoundView {
        let status = self.sound.status();
        let devices = list().unwrap_or_default();
        let output = match &self.config.output {
            OutputChoice::Device(Choice::Id(id)) => Some(id.clone()),
            _ => None,
        };
        let input = match self.config.input.as_ref().map(|input| &input.device) {
            None => InputChoice::None,
            Some(Choice::Default) => InputChoice::Default,
            Some(Choice::Id(id)) => InputChoice::Device(id.clone()),
        };
        let usual = OutputItem { name: "the system's choice".to_owned(), id: None, chosen: output.is_none() };
        let outputs = devices.outputs.into_iter().map(|device| OutputItem {
            chosen: output.as_ref() == Some(&device.id),
            name: device.name,
            id: Some(device.id),
        });
        let named = [("none", InputChoice::None), ("the system's choice", InputChoice::Default)]
            .map(|(name, choice)| InputItem { name: name.to_owned(), chosen: input == choice, choice });
        let inputs = devices.inputs.into_iter().map(|device| {
            let choice = InputChoice::Device(device.id);
            InputItem { name: device.name, chosen: input == choice, choice }
        });
        SoundView {
            outputs: std::iter::once(usual).chain(outputs).collect(),
            inputs: named.into_iter().chain(inputs).collect(),
            buffer_frames: self.config.buffer,
            buffer_choices: BUFFERS.to_vec(),
            lost: status.xruns + status.gaps,
            rate_hz: self.session.sound().rate,
            round_trip: self.trip(),
            hearing: self.session.hearing(),
            volumes: self.session.settings().volumes,
            level: self.session.level(),
            strokes_start: self.session.settings().strokes_start,
            notes: Vec::new(),
        }
    }
}
