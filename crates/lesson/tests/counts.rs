//! What is counted on a slot and which way the hand goes: common practice, no source, where no other is named.

use sixrung_lesson::{Count, Direction, Grid, Meter, TripletCount, counts, pendulum};

const SWUNG: Grid = Grid::SwungEighths { long: 2, short: 1 };

fn row(count: u8, unit: u8, grid: Grid, slots: u32, triplets: TripletCount) -> (String, String) {
    let meter = Meter::new(count, unit).expect("a meter");
    let counted: Vec<_> = (0..slots).map(|slot| counts(meter, grid, slot, triplets).to_string()).collect();
    let hand = (0..slots).map(|slot| match pendulum(meter, grid, slot) {
        Direction::Down => 'D',
        Direction::Up => 'U',
    });
    (counted.join(" "), hand.collect())
}

#[test]
fn a_bar_is_counted_and_swung_as_it_is_taught() {
    let check = |(count, unit), grid, slots, triplets, counted: &str, hand: &str| {
        let found = row(count, unit, grid, slots, triplets);
        assert_eq!(found, (counted.to_owned(), hand.to_owned()), "{count}/{unit} {grid:?}");
    };
    let usual = TripletCount::TripLet;
    check((4, 4), Grid::Quarters, 4, usual, "1 2 3 4", "DDDD");
    check((4, 4), Grid::Eighths, 8, usual, "1 & 2 & 3 & 4 &", "DUDUDUDU");
    check((4, 4), SWUNG, 8, usual, "1 & 2 & 3 & 4 &", "DUDUDUDU");
    check((4, 4), Grid::Sixteenths, 16, usual, "1 e & a 2 e & a 3 e & a 4 e & a", "DUDUDUDUDUDUDUDU");
    check((3, 4), Grid::Eighths, 6, usual, "1 & 2 & 3 &", "DUDUDU");
    check((2, 4), Grid::Triplets, 6, usual, "1 trip let 2 trip let", "DUDDUD");
    check((2, 4), Grid::Triplets, 6, TripletCount::AndA, "1 & a 2 & a", "DUDDUD");
    check((6, 8), Grid::Eighths, 6, usual, "1 2 3 4 5 6", "DUDDUD");
    check((6, 8), Grid::Sixteenths, 12, usual, "1 & 2 & 3 & 4 & 5 & 6 &", "DUDUDUDUDUDU");
    check((6, 8), Grid::Quarters, 3, usual, "1 3 5", "DDD");
    check((12, 8), Grid::Eighths, 12, usual, "1 2 3 4 5 6 7 8 9 10 11 12", "DUDDUDDUDDUD");
    check((5, 8), Grid::Eighths, 5, usual, "1 2 3 4 5", "DUDUD");
    check((2, 2), Grid::Eighths, 8, usual, "1 e & a 2 e & a", "DUDUDUDU");
    check((2, 2), Grid::Sixteenths, 4, usual, "1 · e ·", "DUDU");
}

#[test]
fn a_second_bar_is_counted_from_one_and_starts_down() {
    let five = Meter::new(5, 8).expect("a meter");
    assert_eq!(counts(five, Grid::Eighths, 5, TripletCount::TripLet), Count::Number(1));
    assert_eq!(pendulum(five, Grid::Eighths, 5), Direction::Down);
}

#[test]
fn on_duple_grids_even_slots_go_down_and_odd_ones_up() {
    for grid in [Grid::Eighths, SWUNG, Grid::Sixteenths] {
        for quarters in 1..=16 {
            let meter = Meter::new(quarters, 4).expect("a meter");
            for slot in 0..u32::from(quarters) * grid.per_quarter() {
                let expected = if slot % 2 == 0 { Direction::Down } else { Direction::Up };
                assert_eq!(pendulum(meter, grid, slot), expected, "{grid:?} slot {slot}");
            }
        }
    }
}
