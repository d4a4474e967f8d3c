//! Rhythm: patterns fit the meter, entries fill whole bars, chords match change points, alternatives are equally long.

use super::run::{Run, bars_in_words, meets_bar_lines};
use crate::build::Draft;
use crate::diagnostic::Severity;
use crate::file::v1::{EntryForm, LessonForm, OptionalForm, PlayForm, PlayedForm, SectionForm};
use crate::findings::{Findings, Span, TextProblem};
use crate::layout::MAX_BARS;
use crate::meter::Meter;
use crate::section::{Entry, Optional, Play, Section};
use crate::units::{TICKS_PER_QUARTER, Tick};

pub(super) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    let mut rhythm = Rhythm { form, draft, findings, seen: Vec::new() };
    let mut bars = Vec::new();
    for (section_form, section) in form.sections.iter().zip(&draft.sections) {
        bars.push((section.name.as_str(), rhythm.section(section_form, section)));
    }
    rhythm.unused_patterns();
    let total: u64 =
        draft.form.iter().filter_map(|name| bars.iter().find(|(own, _)| own == name)).map(|(_, b)| b).sum();
    let most = u64::try_from(MAX_BARS).expect("a usize fits");
    if total > most && bars.iter().all(|(_, bars)| *bars <= most) {
        let span = form.form.as_ref().map_or(form.span, |order| order.span);
        let message = format!("the whole form has {total} bars; at most {most} are played");
        findings.error(span, "too-many-bars", message, "split it into several lessons");
    }
}

struct Rhythm<'f, 'd, 't> {
    form: &'f LessonForm,
    draft: &'d Draft,
    findings: &'d mut Findings<'t>,
    /// Patterns, by number, and the meters they were looked at in.
    seen: Vec<(usize, Meter)>,
}

impl<'f> Rhythm<'f, '_, '_> {
    /// Checks a section through each of its endings and gives its bars.
    fn section(&mut self, form: &'f SectionForm, section: &Section) -> u64 {
        let mut run = Some(Run::default());
        let mut last = form.span;
        self.entries(&form.entries, &section.entries, &mut run, &mut last);
        let mut bars = 0;
        for (ending_form, ending) in form.endings.iter().zip(&section.endings) {
            let (mut run, mut last) = (run.clone(), last);
            self.entries(&ending_form.value, ending, &mut run, &mut last);
            bars += self.end_of_section(run.as_ref(), last);
        }
        if form.endings.is_empty() {
            bars = self.end_of_section(run.as_ref(), last);
        }
        let most = u64::try_from(MAX_BARS).expect("a usize fits");
        if bars > most {
            let message = format!("the section has {bars} bars; at most {most} are played");
            self.findings.error(form.span, "too-many-bars", message, "lower its times, or split it");
        }
        bars
    }

    fn end_of_section(&mut self, run: Option<&Run>, last: Span) -> u64 {
        let Some(run) = run else { return 0 };
        if let (true, Some(stretch)) = (run.past_bar_line() > 0, run.0.last()) {
            let message = format!("the section ends {} into a bar", bars_in_words(run.past_bar_line(), stretch.meter));
            self.findings.error(last, "unfilled-bar", message, "add what fills the bar, or take away what begins it");
        }
        run.bars()
    }

    /// Adds entries to `run`, which becomes `None` when a length can't be told; `last` is the entry that came last.
    fn entries(&mut self, forms: &'f [EntryForm], entries: &[Entry], run: &mut Option<Run>, last: &mut Span) {
        for pair in forms.iter().zip(entries) {
            match pair {
                (EntryForm::Played(form), Entry::Played { .. }) => {
                    self.played(form, pair.1, run, *last);
                    *last = form.play.span;
                }
                (EntryForm::Optional(form), Entry::Optional(optional)) => self.optional(form, optional, run, last),
                _ => unreachable!("a draft's entries are built one for one from their forms"),
            }
        }
    }

    fn played(&mut self, form: &'f PlayedForm, entry: &Entry, run: &mut Option<Run>, last: Span) {
        let Entry::Played { play, times, exceptions, meter: own_meter } = entry else { return };
        self.chord_count(&form.play, form.play.span, play);
        for (exception_form, exception) in form.exceptions().zip(exceptions) {
            self.chord_count(exception_form, exception_form.span, &exception.play);
            self.exception_length(exception_form, &exception.play, play);
        }
        if let (Some(exception), 1) = (&form.last, times) {
            let message = "the last of one time: what the entry itself names is never played";
            self.findings.warn(exception.span, "always-last", message, "raise times, or write it as the entry itself");
        }
        let meter_is_lost = form.meter.is_some() && own_meter.is_none();
        let meter = own_meter.or(self.draft.meter).filter(|_| !meter_is_lost);
        for (play_form, play) in form.plays().zip(std::iter::once(play).chain(exceptions.iter().map(|e| &e.play))) {
            if let Some(meter) = meter {
                self.pattern_in(meter, play_form, &play.pattern);
            }
        }
        let plays: Vec<&Play> =
            std::iter::once(play).chain(exceptions.iter().map(|exception| &exception.play)).collect();
        self.follow_on(run, meter, &plays, *times, form.play.span, last);
    }

    /// Adds an entry to the run, checking that bars are full where the meter changes and met by a slot elsewhere.
    ///
    /// `plays` are the usual, which gives the length, and the exceptions.
    fn follow_on(
        &mut self,
        run: &mut Option<Run>,
        meter: Option<Meter>,
        plays: &[&Play],
        times: u16,
        span: Span,
        last: Span,
    ) {
        let usual = self.draft.pattern(&plays[0].pattern);
        let (Some(known), Some(meter), Some(usual)) = (run.as_mut(), meter, usual) else {
            *run = None;
            return;
        };
        let (bar, length) = (u64::from(meter.bar().0), u64::from(usual.length().0));
        let changed_from = known.0.last().map(|stretch| stretch.meter).filter(|before| *before != meter);
        if let Some(before) = changed_from.filter(|_| known.past_bar_line() > 0) {
            let message = format!("the meter changes {} into a bar", bars_in_words(known.past_bar_line(), before));
            self.findings.error(last, "unfilled-bar", message, "add after this entry what fills the bar");
        }
        if (changed_from.is_some() && known.past_bar_line() > 0) || !(length * 2).is_multiple_of(bar) {
            *run = None;
            return;
        }
        let first = if changed_from.is_some() { 0 } else { known.past_bar_line() };
        // Repeats start at the same one or two places in the bar over and over, as lengths are whole or half bars.
        let starts = [first, (first + length) % bar];
        let patterns = plays.iter().filter_map(|play| self.draft.pattern(&play.pattern));
        for pattern in patterns.filter(|pattern| pattern.length() == usual.length()) {
            let starts = starts.iter().take(usize::from(times));
            if starts.into_iter().any(|start| !meets_bar_lines(pattern, *start, meter)) {
                let message = format!("a bar line falls inside a stroke of \"{}\" here", pattern.name);
                self.findings.error(span, "broken-bar", message, "start it on a bar line, or write it on a finer grid");
            }
        }
        known.add(meter, length * u64::from(times));
    }

    fn optional(&mut self, form: &'f OptionalForm, optional: &Optional, run: &mut Option<Run>, last: &mut Span) {
        let (mut fuller, mut last_of_fuller) = (run.clone(), *last);
        self.entries(&form.fuller, &optional.fuller, &mut fuller, &mut last_of_fuller);
        self.entries(&form.instead, &optional.instead, run, last);
        if fuller.is_none() || run.is_none() || fuller == *run {
            return;
        }
        let lengths = Run::of(&optional.fuller, self.draft).zip(Run::of(&optional.instead, self.draft));
        let Some((fuller, instead)) = lengths else { return };
        let message = format!("fuller is {}, instead is {}", fuller.in_words(), instead.in_words());
        let hint = "make the two equally long: leaving an option out never shortens the song";
        self.findings.error(form.name.span, "optional-length", message, hint);
    }

    fn chord_count(&mut self, form: &PlayForm, entry: Span, play: &Play) {
        let Some(pattern) = self.draft.pattern(&play.pattern) else { return };
        let (points, chords) = (pattern.change_points(), play.chords.len());
        let written = form.chords.as_ref().map(|chords| chords.span);
        if chords == points + 1 || (chords == points && chords > 0) || (chords == 0 && written.is_none()) {
            return;
        }
        // A chord that could not be read is missing from the count already.
        if written.is_some_and(|span| self.findings.any_error_in(span)) {
            return;
        }
        let span = written.or(form.pattern.as_ref().map(|pattern| pattern.span)).unwrap_or(entry);
        let message = format!("\"{}\" has {points} change points; found {chords} chords", pattern.name);
        let hint = match points {
            0 => "name one chord, or put ^ before the stroke where the next begins".to_owned(),
            _ => format!("name {} chords, or {points} when the last change comes early", points + 1),
        };
        self.findings.error(span, "chord-count", message, hint);
    }

    fn exception_length(&mut self, form: &PlayForm, exception: &Play, usual: &Play) {
        let patterns = self.draft.pattern(&exception.pattern).zip(self.draft.pattern(&usual.pattern));
        let (Some((different, usual)), Some(written)) = (patterns, &form.pattern) else { return };
        if different.length() != usual.length() {
            let message = format!("\"{}\" is not as long as \"{}\", which it replaces", different.name, usual.name);
            let quarters = |ticks: Tick| f64::from(ticks.0) / f64::from(TICKS_PER_QUARTER);
            let (found, wanted) = (quarters(different.length()), quarters(usual.length()));
            let hint = format!("it is {found} quarters long; take one of {wanted}");
            self.findings.error(written.span, "exception-length", message, hint);
        }
    }

    /// Checks a pattern against a meter it is played in, once for each.
    fn pattern_in(&mut self, meter: Meter, play: &PlayForm, name: &str) {
        let Some(index) = self.draft.pattern_index(name) else { return };
        let span = play.pattern.as_ref().map_or(play.span, |pattern| pattern.span);
        self.fits(index, meter, Some(span));
    }

    fn unused_patterns(&mut self) {
        let Some(meter) = self.draft.meter else { return };
        for index in 0..self.draft.patterns.len() {
            if self.seen.iter().all(|(seen, _)| *seen != index) {
                self.fits(index, meter, None);
            }
        }
    }

    /// Whole or half bars, and its written bar lines where bars end.
    fn fits(&mut self, index: usize, meter: Meter, used_at: Option<Span>) {
        let Some(draft) = &self.draft.patterns[index] else { return };
        if self.seen.contains(&(index, meter)) {
            return;
        }
        self.seen.push((index, meter));
        let Some(strokes) = &self.form.patterns[index].strokes else { return };
        let (length, bar) = (draft.pattern.length().0, meter.bar().0);
        if !(length * 2).is_multiple_of(bar) {
            let (slots, per_quarter) = (draft.pattern.strokes.len(), draft.pattern.grid.per_quarter());
            let bar_slots = f64::from(bar) / f64::from(TICKS_PER_QUARTER) * f64::from(per_quarter);
            let name = &draft.pattern.name;
            let bar_of = format!("a bar of {}/{}", meter.count(), meter.unit());
            let message = format!("\"{name}\" has {slots} slots, where {bar_of} has {bar_slots}");
            let hint = "a pattern is whole or half bars: add the slots that are missing, silent ones as - or .";
            let span = used_at.filter(|_| Some(meter) != self.draft.meter).unwrap_or(strokes.span);
            self.findings.error(span, "pattern-length", message, hint);
            return;
        }
        for line in &draft.bar_lines {
            if !draft.pattern.grid.slot_start(line.before).0.is_multiple_of(bar) {
                let message = format!("this bar line is not where a bar of {}/{} ends", meter.count(), meter.unit());
                let hint = "move it, or take it away: bar lines are for the eye only".to_owned();
                let problem = TextProblem { code: "bar-line", message, hint, from: line.at, to: line.at + 1 };
                self.findings.in_text(Severity::Error, strokes, problem);
            }
        }
    }
}
