//! Where a click lies and how long it is, in a sound that was stretched.

/// How clicks came out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Clicks {
    /// The largest distance from where they belong, in milliseconds.
    pub(crate) worst_ms: f64,
    /// The largest distance from where the median of them lies, in milliseconds.
    pub(crate) jitter_ms: f64,
    /// The largest width over that of the click itself: the shortest stretch that holds
    /// nine tenths of the energy.
    pub(crate) smear: f64,
    /// The median of the same.
    pub(crate) smear_median: f64,
}

/// Looks at the clicks at `places` (frames, fractions allowed) of `sound`; `click` is what one looks like.
pub(crate) fn clicks(sound: &[[f32; 2]], rate: u32, places: &[f64], click: &[f64]) -> Clicks {
    let ms = 1000.0 / f64::from(rate);
    let own = width(click);
    let mut offsets = Vec::new();
    let mut smears = Vec::new();
    for place in places {
        let (offset, smear) = one(sound, rate, *place, click);
        offsets.push(offset * ms);
        smears.push(smear / own);
    }
    let median = middle(&offsets);
    Clicks {
        worst_ms: offsets.iter().fold(0.0, |worst, offset| worst.max(offset.abs())),
        jitter_ms: offsets.iter().fold(0.0, |worst, offset| worst.max((offset - median).abs())),
        smear: smears.iter().copied().fold(0.0, f64::max),
        smear_median: middle(&smears),
    }
}

fn middle(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[sorted.len() / 2]
}

/// How far one click is off in frames, by the peak of its likeness with the click as it should be, and its width.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    reason = "test samples"
)]
fn one(sound: &[[f32; 2]], rate: u32, place: f64, click: &[f64]) -> (f64, f64) {
    let sample =
        |at: i64| usize::try_from(at).ok().and_then(|at| sound.get(at)).map_or(0.0, |frame| f64::from(frame[0]));
    let base = place.floor() as i64;
    let reach = (f64::from(rate) * 0.004) as i64;
    let likeness = |shift: i64| -> f64 {
        click.iter().enumerate().map(|(n, click)| click * sample(base + shift + n as i64)).sum()
    };
    let top = (-reach..=reach).max_by(|a, b| likeness(*a).total_cmp(&likeness(*b))).unwrap_or(0);
    let (low, mid, high) = (likeness(top - 1), likeness(top), likeness(top + 1));
    let bend = low - 2.0 * mid + high;
    let part = if bend < 0.0 { 0.5 * (low - high) / bend } else { 0.0 };
    let around = (f64::from(rate) * 0.02) as i64;
    let window: Vec<f64> = (-around..around).map(|at| sample(base + at)).collect();
    (top as f64 + part - place.fract(), width(&window))
}

/// The shortest stretch that holds nine tenths of the energy, in frames.
#[expect(clippy::cast_precision_loss, reason = "test samples")]
fn width(samples: &[f64]) -> f64 {
    let mut sums = vec![0.0];
    for sample in samples {
        sums.push(sums[sums.len() - 1] + sample * sample);
    }
    let wanted = 0.9 * sums[samples.len()];
    let mut shortest = samples.len();
    let mut to = 0;
    for from in 0..samples.len() {
        while to < samples.len() && sums[to] - sums[from] < wanted {
            to += 1;
        }
        if sums[to] - sums[from] >= wanted {
            shortest = shortest.min(to - from);
        }
    }
    shortest as f64
}
