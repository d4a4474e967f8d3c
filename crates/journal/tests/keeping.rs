//! What is put into the journal comes out again.

mod support;

use sixrung_journal::{
    BarCount, Counts, DevicePair, Journal, LearnedKey, Measured, RoundTrip, SoundCheck, StretchKey, Strokes,
};
use sixrung_lesson::{Action, Direction, Stretch};
use sixrung_practice::{
    ChordFinding, Day, Finding, Moment, PassVerdict, Processing, Reason, StrokeFinding, UtcOffset, Verdict,
};
use tempfile::TempDir;

use support::{ended, key, record};

const TODAY: Day = Day(20_000);

fn journal() -> (TempDir, Journal) {
    let folder = tempfile::tempdir().expect("a folder");
    let opened = Journal::open(&folder.path().join("deep/down/journal.sqlite"), TODAY).expect("opens");
    assert_eq!(opened.notices, []);
    (folder, opened.journal)
}

#[test]
fn passes_come_back_newest_first_with_their_strokes_and_climb() {
    let (_folder, mut journal) = journal();
    let records: Vec<_> = (0..40).map(record).collect();
    for record in &records {
        journal.record(record).expect("written");
        assert_eq!(journal.climb(&key()).expect("read"), record.climb);
    }
    let passes = journal.recent_passes(Some(&key()), 1_000).expect("read");
    assert_eq!(passes.len(), 40);
    for ((id, pass), record) in passes.iter().zip(records.iter().rev()) {
        assert_eq!(*pass, record.pass);
        assert_eq!(journal.strokes(*id).expect("read").as_ref(), Some(&record.strokes));
    }
    assert_eq!(journal.recent_passes(None, 3).expect("read"), passes[..3]);
    assert_eq!(journal.count_passes(), Ok(40));
}

#[test]
fn every_reason_for_not_judging_comes_back() {
    let (_folder, mut journal) = journal();
    let reasons = [
        Reason::Silence,
        Reason::TooFaint,
        Reason::Clipped,
        Reason::Gap,
        Reason::LearningRoundTrip,
        Reason::RoundTripMoved,
        Reason::OwnSound,
        Reason::StartUnclear,
        Reason::Stopped,
        Reason::TooShort,
        Reason::BadSamples,
        Reason::TooFast,
        Reason::NothingExpected,
        Reason::Unclear,
    ];
    for reason in reasons {
        let mut stopped = record(0);
        stopped.pass.verdict = Verdict::NotJudged(reason);
        journal.record(&stopped).expect("written");
        let newest = journal.recent_passes(None, 1).expect("read");
        assert_eq!(newest[0].1.verdict, Verdict::NotJudged(reason));
    }
}

#[test]
fn each_stretch_and_arrangement_has_its_own_climb() {
    let (_folder, mut journal) = journal();
    let section = |name: &str| Stretch::Section(name.into());
    let bars = |first, end| Stretch::Bars { section: "Verse".into(), first, end };
    let keys: Vec<StretchKey> = [Stretch::Whole, section("Verse"), section("Chorus"), bars(0, 4), bars(0, 5)]
        .into_iter()
        .flat_map(|stretch| {
            ["plain", "full"].map(|name| StretchKey { stretch: stretch.clone(), arrangement: name.into(), ..key() })
        })
        .collect();
    for (number, key) in (0..).zip(&keys) {
        assert_eq!(journal.climb(key), Ok(None));
        let climb = record(number).climb.expect("each has one");
        journal.set_climb(key, &climb).expect("written");
    }
    for (number, key) in (0..).zip(&keys) {
        assert_eq!(journal.climb(key).expect("read"), record(number).climb, "{key:?}");
        assert_eq!(journal.recent_passes(Some(key), 9), Ok(Vec::new()));
    }
}

#[test]
fn a_lesson_whose_text_changed_goes_on_from_its_old_climb() {
    let (_folder, mut journal) = journal();
    let (old, corrected) = (key(), {
        let mut corrected = key();
        corrected.lesson.hash += 1;
        corrected
    });
    journal.record(&record(3)).expect("written");
    assert_eq!(journal.climb(&corrected).expect("read"), record(3).climb);
    journal.set_climb(&corrected, record(9).climb.as_ref().expect("each has one")).expect("written");
    assert_eq!(journal.climb(&corrected).expect("read"), record(9).climb);
    assert_eq!(journal.climb(&old).expect("read"), record(3).climb, "the old text keeps its own");
    let mut other = key();
    other.lesson.hash += 2;
    other.lesson.title = "Another".into();
    assert_eq!(journal.climb(&other), Ok(None));
}

#[test]
fn settings_and_round_trips_keep_their_newest_value() {
    let (_folder, journal) = journal();
    assert_eq!(journal.setting("theme"), Ok(None));
    journal.set("theme", "light").expect("written");
    journal.set("theme", "dark").expect("written");
    journal.set("ålder", "7½").expect("written");
    assert_eq!(journal.setting("theme").expect("read").as_deref(), Some("dark"));
    let all: Vec<_> = journal.settings().expect("read").into_iter().collect();
    assert_eq!(all, [("theme".into(), "dark".into()), ("ålder".into(), "7½".into())]);

    let pair = |rate_hz| DevicePair { output: "speaker".into(), input: "mic".into(), rate_hz, buffer_frames: 256 };
    for (ms, how) in
        [(20.5, Measured::FromPass), (21.5, Measured::Loopback), (19.0, Measured::TapAlong), (22.0, Measured::ByHand)]
    {
        let trip = RoundTrip { ms, spread_ms: 0.5, how, measured: Moment(1_900_000_000) };
        journal.set_round_trip(&pair(48_000), &trip).expect("written");
        assert_eq!(journal.round_trip(&pair(48_000)), Ok(Some(trip)));
    }
    assert_eq!(journal.round_trip(&pair(44_100)), Ok(None), "another rate, another round trip");
}

#[test]
fn minutes_today_count_from_four_in_the_morning_local_time() {
    let (_folder, mut journal) = journal();
    let zone = UtcOffset(7_200);
    let begins = ended(0).day(zone).begins(zone);
    for (seconds, minutes) in [(-1, 10), (0, 3), (3_600, 2)] {
        let mut pass = record(1);
        pass.pass.ended = Moment(begins.0 + seconds);
        pass.pass.duration_ms = minutes * 60_000 + 20_000;
        journal.record(&pass).expect("written");
    }
    assert_eq!(journal.minutes_today(Moment(begins.0 + 10_000), zone), Ok(5));
    assert_eq!(journal.minutes_today(Moment(begins.0 + 86_400), zone), Ok(0));
}

fn finding(
    bar: usize,
    finding: Finding,
    chord: ChordFinding,
    expected_s: f64,
    offset_ms: Option<f64>,
) -> StrokeFinding {
    StrokeFinding {
        bar,
        slot: 1,
        action: Action::Strum,
        direction: Direction::Up,
        shape: Some(2),
        expected_s,
        heard_s: offset_ms.map(|offset| expected_s + offset / 1000.0),
        offset_ms,
        finding,
        chord,
        sounded_like: None,
        heard_direction: None,
        strings: Vec::new(),
        window_ms: 79.6,
    }
}

#[test]
fn a_verdict_is_kept_to_a_tenth_of_a_millisecond_and_counted_by_bar() {
    let verdict = PassVerdict {
        verdict: Verdict::NotClean,
        strokes: vec![
            finding(4, Finding::InTime, ChordFinding::Right, 10.0, Some(-12.34)),
            finding(4, Finding::Late, ChordFinding::Wrong, 10.25, Some(9_999.0)),
            finding(5, Finding::Missed, ChordFinding::Unsure, 12.0, None),
        ],
        extras_s: vec![9.5, 11.0015],
        median_offset_ms: None,
        spread_ms: None,
        allowed_faults: 1,
        tuning_cents: None,
    };
    let strokes = Strokes::of(&verdict, 10.0);
    let kept: Vec<_> =
        strokes.marks.iter().map(|mark| (mark.expected_ms, mark.offset_tenth_ms, mark.window_ms)).collect();
    assert_eq!(kept, [(0, Some(-123), 80), (250, Some(32_767), 80), (2_000, None, 80)]);
    assert_eq!(strokes.extras_ms, [0, 1_002]);
    let first = Counts { expected: 2, in_time: 1, late: 1, wrong_chord: 1, ..Counts::default() };
    let second = Counts { expected: 1, missed: 1, ..Counts::default() };
    assert_eq!(strokes.bars(), [BarCount { bar: 4, counts: first }, BarCount { bar: 5, counts: second }]);
    assert_eq!(strokes.counts(), Counts { expected: 3, missed: 1, extra: 2, ..first });
}

#[test]
fn what_was_learned_is_kept_by_guitar_and_name_and_the_last_counts() {
    let (_folder, journal) = journal();
    let key = |guitar: &str, what: &str| LearnedKey { guitar: guitar.into(), what: what.into() };
    journal.set_learned(&key("steel", "Quay"), "first", Moment(1)).expect("written");
    journal.set_learned(&key("nylon", "Quay"), "other", Moment(2)).expect("written");
    journal.set_learned(&key("steel", "Quay"), "second", Moment(3)).expect("written");
    assert_eq!(journal.learned(&key("steel", "Quay")), Ok(Some(("second".into(), Moment(3)))));
    assert_eq!(journal.learned(&key("steel", "Shuffle")), Ok(None));
    assert_eq!(journal.guitars(), Ok(vec!["nylon".into(), "steel".into()]));
    journal.set_learned(&key("steel", "Anchor"), "third", Moment(4)).expect("written");
    let all = vec![("Anchor".into(), "third".into(), Moment(4)), ("Quay".into(), "second".into(), Moment(3))];
    assert_eq!(journal.all_learned("steel"), Ok(all));
    journal.forget_learned(&key("steel", "Quay")).expect("written");
    assert_eq!(journal.learned(&key("steel", "Quay")), Ok(None));
    assert_eq!(journal.learned(&key("nylon", "Quay")), Ok(Some(("other".into(), Moment(2)))));
}

#[test]
fn the_last_sound_check_of_a_pair_is_kept() {
    let (_folder, journal) = journal();
    let pair = |rate_hz| DevicePair { output: "out".into(), input: "in".into(), rate_hz, buffer_frames: 256 };
    for (found, overruled) in
        [(vec![Reason::Clipped, Reason::Processed(Processing::NarrowBand)], true), (Vec::new(), false)]
    {
        let check = SoundCheck { found, overruled, at: Moment(5) };
        journal.set_sound_check(&pair(48_000), &check).expect("written");
        assert_eq!(journal.sound_check(&pair(48_000)), Ok(Some(check)));
    }
    assert_eq!(journal.sound_check(&pair(44_100)), Ok(None), "another rate is checked anew");
}
