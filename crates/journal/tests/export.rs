//! Tables for other programs.

#[path = "support/change.rs"]
mod change;
mod support;

use std::fs;

use sixrung_journal::{Journal, JournalError, Table};
use sixrung_lesson::Stretch;
use sixrung_practice::{Day, Done, Felt, Step};

use support::{ended, key, record};

fn journal() -> (tempfile::TempDir, Journal) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut journal = Journal::open(&folder.path().join("journal.sqlite"), Day(20_664)).expect("opens").journal;
    let mut looped = record(1);
    looped.pass.key.stretch = Stretch::Bars { section: "Verse".into(), first: 2, end: 4 };
    looped.pass.key.lesson.hash += 1;
    looped.pass.key.lesson.title = "Quay, \"slow\"\nversion\u{1}\\".into();
    for pass in [record(0), looped] {
        journal.record(&pass).expect("written");
    }
    journal.set_step(&key(), Step::Shapes, Done::Heard, ended(3)).expect("written");
    journal.record_change(&change::change()).expect("written");
    journal.record_felt(Felt::Sore, ended(4)).expect("written");
    (folder, journal)
}

fn exported(journal: &Journal, table: Table) -> String {
    let mut out = Vec::new();
    journal.export(table, &mut out).expect("written");
    String::from_utf8(out).expect("text")
}

/// RFC 4180, section 2: quotes around a field with a comma, a quote or a line's end; a quote within it twice. The moment is
/// what `date -u -d @1900000000` prints.
#[test]
fn passes_are_lines_of_comma_separated_values() {
    let (_folder, journal) = journal();
    let table = exported(&journal, Table::PassesCsv);
    let lines: Vec<&str> = table.split("\r\n").collect();
    assert_eq!(lines.len(), 4, "names, two passes, and the end of the last line:\n{table}");
    assert!(
        lines[0].starts_with("ended,lesson,lesson_hash,stretch,section,first_bar,last_bar,arrangement,step,seconds")
    );
    let first = "2030-03-17T17:46:40Z,Lantern on the Quay,f00dface01234567,section,Verse,,,plain,climb,25";
    assert!(lines[1].starts_with(first), "{}", lines[1]);
    assert!(lines[1].contains(",not_judged,too_faint,player,beginner,1,48,"), "{}", lines[1]);
    let second = "2030-03-17T20:16:40Z,\"Quay, \"\"slow\"\"\nversion\u{1}\\\",f00dface01234568,bars,Verse,3,4,plain";
    assert!(lines[2].starts_with(second), "{}", lines[2]);
    let columns = lines[0].split(',').count();
    assert_eq!(lines[1].split(',').count(), columns);
    let changes = exported(&journal, Table::ChangesCsv);
    assert_eq!(
        changes,
        "at,from_frets,to_frets,capo,seconds,botched\r\n2030-03-18T01:16:40Z,320003,xx0232,2,0.9,1\r\n"
    );
}

#[test]
fn an_empty_journal_gives_the_names_of_the_columns() {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = Journal::open(&folder.path().join("journal.sqlite"), Day(20_664)).expect("opens").journal;
    assert_eq!(exported(&journal, Table::ChangesCsv), "at,from_frets,to_frets,capo,seconds,botched\r\n");
    let json = exported(&journal, Table::Json);
    assert!(json.contains("\"passes\":[],\n\"changes\":[],\n\"rungs\":[]"), "{json}");
}

#[test]
fn the_json_text_has_every_table_and_says_what_it_leaves_out() {
    let (_folder, journal) = journal();
    let json = exported(&journal, Table::Json);
    for piece in [
        "{\"form\":1,\"player\":\"me\",\n\"left_out\":[\"the strokes of each pass\",",
        "\"passes\":[\n{\"ended\":\"2030-03-17T17:46:40Z\",\"lesson\":\"Lantern on the Quay\",",
        "\"lesson\":\"Quay, \\\"slow\\\"\\u000aversion\\u0001\\\\\",",
        "\"section\":\"Verse\",\"first_bar\":null,\"last_bar\":null,",
        "\"changes\":[\n{\"at\":\"2030-03-18T01:16:40Z\",\"from_frets\":\"320003\",\"to_frets\":\"xx0232\",\"capo\":2,",
        "\"steps\":[\n{\"lesson\":\"Lantern on the Quay\",\"stretch\":\"section\",\"section\":\"Verse\",",
        "\"hands\":[\n{\"at\":\"2030-03-18T03:46:40Z\",\"felt\":\"sore\"}]}\n",
    ] {
        assert!(json.contains(piece), "{piece} is not in {json}");
    }
}

#[test]
fn no_table_names_a_device_or_a_place() {
    let (folder, mut journal) = journal();
    let mut told = record(2);
    told.pass.sound = "speaker of Ana's room, 21.5 ms".into();
    journal.record(&told).expect("written");
    let place = folder.path().to_str().expect("text").to_owned();
    for table in [Table::PassesCsv, Table::ChangesCsv, Table::Json] {
        let text = exported(&journal, table);
        assert!(!text.contains("speaker of") && !text.contains(&place), "{text}");
    }
}

#[test]
fn a_file_is_whole_or_not_there() {
    let (folder, journal) = journal();
    let path = folder.path().join("passes.csv");
    journal.export_to(Table::PassesCsv, &path).expect("written");
    assert_eq!(fs::read_to_string(&path).expect("read"), exported(&journal, Table::PassesCsv));
    assert!(!path.with_extension("unfinished").exists());
    let nowhere = folder.path().join("no/such/folder/passes.csv");
    assert!(matches!(journal.export_to(Table::Json, &nowhere), Err(JournalError::Unwritable { .. })));
}
