//! The tables, and the steps from each form of them to the next.
//!
//! Never edit a step that was released: add the next one, and keep a stored file of the old form in the tests.

use rusqlite::Connection;

use crate::error::JournalError;

/// Marks the file as ours ("6rng").
pub(crate) const APPLICATION_ID: i32 = i32::from_be_bytes(*b"6rng");

/// Step *n* leads from form *n* to form *n* + 1; an empty file has form 0.
const STEPS: &[&str] = &[FORM_1, FORM_2, FORM_3, FORM_4, FORM_5];

/// The form this version reads and writes.
pub(crate) const CURRENT: i64 = STEPS.len() as i64;

/// Moments are seconds since the Unix epoch, tempi thousandths of a beat a minute, hashes the bits of a `u64`.
const FORM_1: &str = "
CREATE TABLE players (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO players (id, name) VALUES (1, 'me');

CREATE TABLE lessons (
    id INTEGER PRIMARY KEY,
    hash INTEGER NOT NULL UNIQUE,
    title TEXT NOT NULL
) STRICT;

-- What is practised: a stretch of a lesson in one arrangement.
CREATE TABLE stretches (
    id INTEGER PRIMARY KEY,
    lesson INTEGER NOT NULL REFERENCES lessons,
    kind TEXT NOT NULL CHECK (kind IN ('whole', 'section', 'bars')),
    section TEXT NOT NULL,
    first_bar INTEGER NOT NULL,
    end_bar INTEGER NOT NULL,
    arrangement TEXT NOT NULL,
    UNIQUE (lesson, kind, section, first_bar, end_bar, arrangement)
) STRICT;

CREATE TABLE passes (
    id INTEGER PRIMARY KEY,
    player INTEGER NOT NULL REFERENCES players,
    stretch INTEGER NOT NULL REFERENCES stretches,
    ended INTEGER NOT NULL,
    duration_ms INTEGER NOT NULL,
    tempo INTEGER NOT NULL,
    rung INTEGER,
    rung_after INTEGER,
    verdict TEXT NOT NULL CHECK (verdict IN ('clean', 'not_clean', 'not_judged')),
    reason TEXT,
    marked TEXT NOT NULL CHECK (marked IN ('heard', 'player')),
    level TEXT NOT NULL CHECK (level IN ('beginner', 'improver', 'advanced')),
    allowed_faults INTEGER NOT NULL,
    expected INTEGER NOT NULL,
    in_time INTEGER NOT NULL,
    early INTEGER NOT NULL,
    late INTEGER NOT NULL,
    missed INTEGER NOT NULL,
    extra INTEGER NOT NULL,
    wrong_chord INTEGER NOT NULL,
    median_offset_ms REAL,
    spread_ms REAL,
    sound TEXT NOT NULL,
    CHECK ((verdict = 'not_judged') = (reason IS NOT NULL))
) STRICT;
CREATE INDEX passes_by_time ON passes (player, ended);
CREATE INDEX passes_by_stretch ON passes (player, stretch, ended);

-- Apart from the passes, so that looking over months of them does not read every stroke.
CREATE TABLE strokes (
    pass INTEGER PRIMARY KEY REFERENCES passes ON DELETE CASCADE,
    marks BLOB NOT NULL,
    extras BLOB NOT NULL
) STRICT;

CREATE TABLE climbs (
    player INTEGER NOT NULL REFERENCES players,
    stretch INTEGER NOT NULL REFERENCES stretches,
    at INTEGER NOT NULL,
    mode TEXT NOT NULL CHECK (mode IN ('probing', 'rechecking', 'climbing')),
    pegs INTEGER NOT NULL,
    not_clean INTEGER NOT NULL,
    half_rungs TEXT NOT NULL,
    offered INTEGER,
    last_pass INTEGER,
    stepped_back INTEGER NOT NULL,
    tally_passes INTEGER NOT NULL,
    tally_falls INTEGER NOT NULL,
    recent TEXT NOT NULL,
    top_clean INTEGER NOT NULL,
    top_arrived_after INTEGER,
    PRIMARY KEY (player, stretch)
) STRICT, WITHOUT ROWID;

CREATE TABLE rungs (
    player INTEGER NOT NULL,
    stretch INTEGER NOT NULL,
    tempo INTEGER NOT NULL,
    last_played INTEGER NOT NULL,
    known INTEGER NOT NULL,
    falls INTEGER NOT NULL,
    held_at INTEGER,
    held_marked TEXT CHECK (held_marked IN ('heard', 'player')),
    PRIMARY KEY (player, stretch, tempo),
    FOREIGN KEY (player, stretch) REFERENCES climbs ON DELETE CASCADE,
    CHECK ((held_at IS NULL) = (held_marked IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE settings (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- One for each pair of devices, rate and buffer: what reached the speaker to what came back.
CREATE TABLE round_trips (
    output TEXT NOT NULL,
    input TEXT NOT NULL,
    rate_hz INTEGER NOT NULL,
    buffer_frames INTEGER NOT NULL,
    ms REAL NOT NULL,
    spread_ms REAL NOT NULL,
    how TEXT NOT NULL CHECK (how IN ('from_pass', 'loopback', 'tap_along', 'by_hand')),
    measured INTEGER NOT NULL,
    PRIMARY KEY (output, input, rate_hz, buffer_frames)
) STRICT, WITHOUT ROWID;
";

/// What the ear learned of a player's shapes and strokes, as text in its own versioned form.
const FORM_2: &str = "
CREATE TABLE learned (
    player INTEGER NOT NULL REFERENCES players,
    guitar TEXT NOT NULL,
    lesson TEXT NOT NULL,
    value TEXT NOT NULL,
    at INTEGER NOT NULL,
    PRIMARY KEY (player, guitar, lesson)
) STRICT, WITHOUT ROWID;
";

/// What a sound check found of each pair of devices: words with spaces between, none when nothing stood in the way.
const FORM_3: &str = "
CREATE TABLE sound_checks (
    output TEXT NOT NULL,
    input TEXT NOT NULL,
    rate_hz INTEGER NOT NULL,
    buffer_frames INTEGER NOT NULL,
    found TEXT NOT NULL,
    overruled INTEGER NOT NULL,
    at INTEGER NOT NULL,
    PRIMARY KEY (output, input, rate_hz, buffer_frames)
) STRICT, WITHOUT ROWID;
";

/// The path: which step a pass was played for, which steps are done, how long changes of chord took, and how it felt.
const FORM_4: &str = "
ALTER TABLE passes ADD COLUMN step TEXT NOT NULL DEFAULT 'climb' CHECK (
    step IN ('shapes', 'changes', 'one_stroke', 'one_chord', 'slow', 'climb', 'play_along', 'sing'));

CREATE TABLE steps (
    player INTEGER NOT NULL REFERENCES players,
    stretch INTEGER NOT NULL REFERENCES stretches,
    step TEXT NOT NULL CHECK (
        step IN ('shapes', 'changes', 'one_stroke', 'one_chord', 'slow', 'climb', 'play_along', 'sing')),
    how TEXT NOT NULL CHECK (how IN ('heard', 'player', 'skipped')),
    at INTEGER NOT NULL,
    PRIMARY KEY (player, stretch, step)
) STRICT, WITHOUT ROWID;

-- Shapes by their frets, as a lesson writes them, from the capo.
CREATE TABLE changes (
    id INTEGER PRIMARY KEY,
    player INTEGER NOT NULL REFERENCES players,
    from_frets TEXT NOT NULL,
    to_frets TEXT NOT NULL,
    capo INTEGER NOT NULL,
    took_ms INTEGER NOT NULL,
    botched INTEGER NOT NULL,
    at INTEGER NOT NULL
) STRICT;
CREATE INDEX changes_by_pair ON changes (player, from_frets, to_frets, at);

CREATE TABLE care (
    id INTEGER PRIMARY KEY,
    player INTEGER NOT NULL REFERENCES players,
    felt TEXT NOT NULL CHECK (felt IN ('fine', 'sore', 'pain')),
    at INTEGER NOT NULL
) STRICT;
";

/// Looking back: a pass deleted stays until the next is, so that it can be taken back; and all that a plot of a hundred
/// thousand passes reads lies together in an index.
const FORM_5: &str = "
-- When it was deleted.
ALTER TABLE passes ADD COLUMN deleted INTEGER;

DROP INDEX passes_by_time;
DROP INDEX passes_by_stretch;
CREATE INDEX passes_by_time ON passes (player, ended, duration_ms) WHERE deleted IS NULL;
CREATE INDEX passes_by_stretch ON passes (
    player, stretch, ended, verdict, tempo, duration_ms, median_offset_ms, spread_ms, step
) WHERE deleted IS NULL;
CREATE INDEX passes_deleted ON passes (player) WHERE deleted IS NOT NULL;

DROP INDEX changes_by_pair;
CREATE INDEX changes_by_pair ON changes (player, from_frets, to_frets, capo, at, took_ms);
CREATE INDEX changes_by_time ON changes (player, at);
";

/// The form of a file: 0 when empty.
pub(crate) fn form(db: &Connection) -> Result<i64, JournalError> {
    Ok(db.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Takes the file step by step to the current form; each step is done wholly or not at all.
pub(crate) fn migrate(db: &mut Connection) -> Result<(), JournalError> {
    // Immediate: of two programs that open an old file at once, the second waits, then finds nothing left to do.
    loop {
        let step = db.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
        let from = form(&step)?;
        let Some(sql) = usize::try_from(from).ok().and_then(|from| STEPS.get(from)) else { return Ok(()) };
        step.execute_batch(sql)?;
        step.pragma_update(None, "application_id", APPLICATION_ID)?;
        step.pragma_update(None, "user_version", from + 1)?;
        step.commit()?;
    }
}
