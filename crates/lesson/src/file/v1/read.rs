//! From the tree to the forms of version 1.

use super::{
    ArrangementForm, CleanForm, EntryForm, LadderForm, LessonForm, OptionalForm, PatternForm, PlayForm, PlayedForm,
    SectionForm, ShapeForm, VERSION,
};
use crate::file::fields::{Fields, flag, list_of, number, numbered, text, whole};
use crate::file::tree::{Kind, Node};
use crate::findings::{At, Findings};

const LESSON: &[&str] = &[
    "version",
    "title",
    "credit",
    "tempo",
    "beat",
    "meter",
    "key",
    "tuning",
    "capo",
    "count_in",
    "shapes",
    "patterns",
    "sections",
    "form",
    "arrangements",
    "ladder",
    "clean",
];
const PLAYED: &[&str] = &["chord", "chords", "pattern", "times", "last", "nth", "meter"];
const OPTIONAL: &[&str] = &["optional", "fuller", "instead"];

/// The lesson's form; `None` when the root is no lesson of this version, and then that is all that is said.
pub(crate) fn lesson(root: &Node, findings: &mut Findings<'_>) -> Option<LessonForm> {
    let hint = "start with Lesson(version: 1, title: \"…\", …)";
    match &root.kind {
        Kind::Struct { name: Some(name), .. } if name != "Lesson" => {
            findings.error(root.span, "not-a-lesson", format!("expected Lesson(…), found {name}(…)"), hint);
            return None;
        }
        Kind::Struct { .. } => {}
        _ => {
            findings.error(root.span, "not-a-lesson", "expected Lesson(…)", hint);
            return None;
        }
    }
    // A later version may mean other things by the same words: nothing else is said about it.
    if let Some((node, version)) = version_of(root)
        && version != VERSION
    {
        let message = format!("this is lesson text version {version}; version {VERSION} can be read");
        findings.error(node.span, "unknown-version", message, "is there a newer Sixrung? or write version: 1");
        return None;
    }
    let fields = Fields::of(root, "the lesson", LESSON, findings)?;
    fields.need("version", findings, whole);
    Some(LessonForm {
        span: root.span,
        title: fields.need("title", findings, text),
        credit: fields.read("credit", findings, text),
        tempo: fields.need("tempo", findings, number),
        beat: fields.read("beat", findings, text),
        meter: fields.need("meter", findings, text),
        key: fields.read("key", findings, text),
        tuning: fields.read("tuning", findings, text),
        capo: fields.read("capo", findings, whole),
        count_in: fields.read("count_in", findings, whole),
        shapes: plain(fields.read("shapes", findings, list_of(shape))),
        patterns: plain(fields.need("patterns", findings, list_of(pattern))),
        sections: plain(fields.need("sections", findings, list_of(section))),
        form: fields.read("form", findings, list_of(text)),
        arrangements: plain(fields.read("arrangements", findings, list_of(arrangement))),
        ladder: fields.read("ladder", findings, ladder),
        clean: fields.read("clean", findings, clean),
    })
}

fn plain<T>(list: Option<At<Vec<T>>>) -> Vec<T> {
    list.map(|list| list.value).unwrap_or_default()
}

fn version_of(root: &Node) -> Option<(&Node, i64)> {
    let Kind::Struct { fields, .. } = &root.kind else { return None };
    let node = &fields.iter().find(|field| field.name == "version")?.value;
    let Kind::Scalar(word) = &node.kind else { return None };
    Some((node, ron::from_str(word).ok()?))
}

fn shape(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<ShapeForm> {
    let fields = Fields::of(node, "a shape", &["name", "frets", "fingers", "stand_in", "mute"], findings)?;
    Some(ShapeForm {
        name: fields.need("name", findings, text),
        frets: fields.need("frets", findings, text),
        fingers: fields.read("fingers", findings, text),
        stand_in: fields.read("stand_in", findings, text),
        mute: fields.read("mute", findings, numbered(text)).unwrap_or_default(),
    })
}

fn pattern(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<PatternForm> {
    let fields = Fields::of(node, "a pattern", &["name", "grid", "strokes"], findings)?;
    Some(PatternForm {
        name: fields.need("name", findings, text),
        grid: fields.need("grid", findings, text),
        strokes: fields.need("strokes", findings, text),
    })
}

fn section(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<SectionForm> {
    let fields = Fields::of(node, "a section", &["name", "entries", "endings", "words"], findings)?;
    Some(SectionForm {
        span: node.span,
        name: fields.need("name", findings, text),
        entries: plain(fields.need("entries", findings, list_of(entry))),
        endings: plain(fields.read("endings", findings, list_of(list_of(entry)))),
        words: plain(fields.read("words", findings, list_of(text))),
    })
}

fn entry(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<EntryForm> {
    let has = |name: &str| matches!(&node.kind, Kind::Struct { fields, .. } if fields.iter().any(|f| f.name == name));
    if OPTIONAL.iter().any(|name| has(name)) {
        let fields = Fields::of(node, "an optional entry", OPTIONAL, findings)?;
        let name = fields.need("optional", findings, text);
        let fuller = plain(fields.need("fuller", findings, list_of(entry)));
        let instead = plain(fields.need("instead", findings, list_of(entry)));
        return Some(EntryForm::Optional(OptionalForm { name: name?, fuller, instead }));
    }
    let fields = Fields::of(node, "an entry", PLAYED, findings)?;
    if fields.get("chord").is_none() && fields.get("chords").is_none() {
        let hint = "add chord: \"…\" or chords: [\"…\", \"…\"]; \"N.C.\" is no chord";
        findings.error(node.span, "missing-field", "an entry needs a chord", hint);
    }
    let pattern = fields.need("pattern", findings, text);
    Some(EntryForm::Played(PlayedForm {
        play: PlayForm { span: node.span, pattern, chords: chords(&fields, findings) },
        times: fields.read("times", findings, whole),
        last: fields.read("last", findings, exception),
        nth: fields.read("nth", findings, numbered(exception)).unwrap_or_default(),
        meter: fields.read("meter", findings, text),
    }))
}

fn exception(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<PlayForm> {
    let fields = Fields::of(node, "an exception", &["chord", "chords", "pattern"], findings)?;
    let differs = ["chord", "chords", "pattern"].iter().any(|name| fields.get(name).is_some());
    if !differs {
        let hint = "say what differs, as in last: (pattern: \"early\"), or take it away";
        findings.error(node.span, "empty-exception", "this exception changes nothing", hint);
    }
    let pattern = fields.read("pattern", findings, text);
    Some(PlayForm { span: node.span, pattern, chords: chords(&fields, findings) })
}

/// From `chord` or `chords`, of which only one may be written.
fn chords(fields: &Fields<'_>, findings: &mut Findings<'_>) -> Option<At<Vec<At<String>>>> {
    let chord = fields.read("chord", findings, text);
    let chords = fields.read("chords", findings, list_of(text));
    if let (Some(_), Some(several)) = (&chord, &chords) {
        let hint = "keep chord for one chord, chords for several";
        findings.error(several.span, "chord-and-chords", "chord and chords are both given", hint);
    }
    chord.map(|chord| At { span: chord.span, value: vec![chord] }).or(chords)
}

fn arrangement(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<ArrangementForm> {
    let fields = Fields::of(node, "an arrangement", &["name", "options", "stand_ins", "capo_shift"], findings)?;
    Some(ArrangementForm {
        span: node.span,
        name: fields.need("name", findings, text),
        options: plain(fields.read("options", findings, list_of(text))),
        stand_ins: fields.read("stand_ins", findings, flag).is_some_and(|flag| flag.value),
        capo_shift: fields.read("capo_shift", findings, whole),
    })
}

fn ladder(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<LadderForm> {
    let fields = Fields::of(node, "the ladder", &["start", "rungs", "bpm", "up_after", "down_after"], findings)?;
    Some(LadderForm {
        span: node.span,
        start: fields.read("start", findings, number),
        rungs: fields.read("rungs", findings, whole),
        bpm: fields.read("bpm", findings, list_of(number)),
        up_after: fields.read("up_after", findings, whole),
        down_after: fields.read("down_after", findings, whole),
    })
}

fn clean(node: &Node, _: &str, findings: &mut Findings<'_>) -> Option<CleanForm> {
    let fields = Fields::of(node, "clean", &["level", "faults"], findings)?;
    Some(CleanForm { level: fields.read("level", findings, text), faults: fields.read("faults", findings, whole) })
}
