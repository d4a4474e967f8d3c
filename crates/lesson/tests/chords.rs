//! Chord symbols against the notes other libraries give them, and against MusicXML's model.

use sixrung_lesson::{ChordSymbol, Degree, DegreeChange, Kind, raised_name};

/// Source and versions stand at the head of the file.
const NOTES: &str = include_str!("data/chord-notes.txt");

fn rows(text: &str) -> impl Iterator<Item = &str> {
    text.lines().filter(|line| !line.is_empty() && !line.starts_with("# "))
}

fn parse(name: &str) -> ChordSymbol {
    ChordSymbol::parse(name).unwrap_or_else(|| panic!("{name} is a chord"))
}

#[test]
fn symbols_have_the_notes_other_libraries_give_them_spelled_alike() {
    let mut checked = 0;
    for row in rows(NOTES) {
        let (name, notes) = row.split_once(' ').expect("a name and its notes");
        let symbol = parse(name);
        let mut spelled: Vec<String> =
            symbol.tones().into_iter().map(|tone| symbol.spell(symbol.class_of(tone)).to_string()).collect();
        let mut expected: Vec<&str> = notes.split(' ').collect();
        spelled.sort_unstable();
        expected.sort_unstable();
        assert_eq!(spelled, expected, "{name}");
        checked += 1;
    }
    assert_eq!(checked, 205);
}

#[test]
fn one_chord_is_read_in_all_its_spellings() {
    for (one, others) in [
        ("F#m", &["F♯m", "F#min", "F#mi", "F#-"][..]),
        ("Bb", &["B♭", "Bbmaj", "BbM"]),
        ("Cmaj7", &["CM7", "Cma7", "CMaj7", "CΔ7"]),
        ("Bm7b5", &["Bø", "Bø7", "Bm7♭5", "Bm7-5", "Bmin7(b5)"]),
        ("Cdim", &["C°", "Cmb5"]),
        ("Caug", &["C+", "C(♯5)"]),
        ("G6/9", &["G69"]),
        ("Dm(maj7)", &["DmM7", "Dmmaj7"]),
        ("Asus4", &["Asus"]),
        ("E7#9", &["E7♯9", "E7(#9)", "E7+9"]),
    ] {
        for other in others {
            assert_eq!(parse(other), parse(one), "{other} is {one}");
        }
    }
}

/// W3C MusicXML 4.0, `kind-value`, `degree`: how each symbol is said there.
#[test]
fn symbols_follow_the_model_of_musicxml() {
    let degree = |value, alter, change| Degree { value, alter, change };
    for (name, kind, degrees) in [
        ("D", Kind::Major, vec![]),
        ("Bm7", Kind::MinorSeventh, vec![]),
        ("E7", Kind::Dominant, vec![]),
        ("A5", Kind::Power, vec![]),
        ("Bm7b5", Kind::HalfDiminished, vec![]),
        ("Am(maj7)", Kind::MajorMinor, vec![]),
        ("A7sus4", Kind::SuspendedFourth, vec![degree(7, -1, DegreeChange::Add)]),
        ("Cadd9", Kind::Major, vec![degree(9, 0, DegreeChange::Add)]),
        ("G6/9", Kind::MajorSixth, vec![degree(9, 0, DegreeChange::Add)]),
        ("E7#9", Kind::Dominant, vec![degree(9, 1, DegreeChange::Add)]),
        ("C9b5", Kind::DominantNinth, vec![degree(5, -1, DegreeChange::Alter)]),
        ("Dno3", Kind::Major, vec![degree(3, 0, DegreeChange::Subtract)]),
    ] {
        let symbol = parse(name);
        assert_eq!((symbol.kind, symbol.degrees), (kind, degrees), "{name}");
    }
}

#[test]
fn a_slash_names_a_bass_only_before_a_note() {
    assert_eq!(parse("G/B").bass.map(|bass| bass.to_string()).as_deref(), Some("B"));
    assert_eq!(parse("D/F♯").bass.map(|bass| bass.to_string()).as_deref(), Some("F#"));
    assert_eq!(parse("C6/9").bass, None);
    assert_eq!(parse("C6/9/G").bass.map(|bass| bass.to_string()).as_deref(), Some("G"));
    assert_eq!(parse("G/B").classes().into_iter().collect::<Vec<_>>(), [2, 7, 11]);
}

#[test]
fn what_is_no_symbol_is_not_read_as_one() {
    for text in
        ["", "H", "d", "N.C.", "Dx", "D/", "D/x", "Gsharp", "Riff", "D7sus4sus4x", "Cmaj5", "B###", &"C".repeat(99)]
    {
        assert_eq!(ChordSymbol::parse(text), None, "{text}");
    }
}

#[test]
fn a_capo_raises_root_and_bass() {
    // Capo 2, shape G sounds A: sounding = shape + capo.
    for (written, capo, sounds) in
        [("G", 2, "A"), ("Bm7", 1, "Cm7"), ("D/F#", 2, "E/A♭"), ("Bb", 2, "C"), ("C6/9", 2, "D6/9"), ("B♭m", 1, "Bm")]
    {
        assert_eq!(raised_name(written, capo).as_deref(), Some(sounds));
    }
    assert_eq!(raised_name("hum", 2), None);
}
