//! Prints the table of policies: `policies LEARNERS SEED`, 1000 and 1 unless given.

use sixrung_learners::{Figures, Part, Traits, contenders, months, table};

fn main() -> Result<(), std::num::ParseIntError> {
    let mut given = std::env::args().skip(1);
    let learners: u32 = given.next().as_deref().unwrap_or("1000").parse()?;
    let seed: u64 = given.next().as_deref().unwrap_or("1").parse()?;
    let part = Part::default();
    let all = contenders(part.original);
    let figures = |adjust: &dyn Fn(Traits) -> Traits, count: usize| -> Vec<(String, Figures)> {
        let one = |contender: &sixrung_learners::Contender| {
            (contender.name.clone(), Figures::of(&months(contender, &part, learners, seed, adjust), seed))
        };
        all.iter().take(count).map(one).collect()
    };
    println!("{learners} learners a policy, seed {seed}; 95 % bootstrap intervals.\n");
    println!("{}", table(&figures(&|traits| traits, all.len())));
    println!("The same learners, if a pass full of faults taught as much as a faultless one:\n");
    println!("{}", table(&figures(&|traits| Traits { harm: 0.0, ..traits }, 5)));
    println!("And if it taught nothing:\n");
    println!("{}", table(&figures(&|traits| Traits { harm: 1.0, ..traits }, 5)));
    Ok(())
}
