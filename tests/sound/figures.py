"""What is measured of one plucked note: where its partials lie, how it dies away, how bright it is and when."""

import numpy as np

BANDS = [250, 500, 1000, 2000, 4000]
MOMENTS_S = [0.010, 0.100, 0.300]


def onset(sound, rate):
    """Index of the first sample above 5 % of the peak of the first half second."""
    start = np.abs(sound[: rate // 2])
    return int(np.argmax(start > 0.05 * start.max()))


def spectrum(sound, rate, size):
    """Power of a Hann window of `size` samples and its frequencies, in hertz."""
    piece = np.zeros(size)
    piece[: min(size, len(sound))] = sound[:size]
    padded = 4 << size.bit_length()
    return np.abs(np.fft.rfft(piece * np.hanning(size), padded)) ** 2, np.fft.rfftfreq(padded, 1 / rate)


def peak_near(power, hertz, at, within):
    """Frequency and level in decibels of the highest peak near `at`, by a parabola through three bins."""
    inside = np.flatnonzero((hertz > at - within) & (hertz < at + within))
    top = inside[np.argmax(power[inside])]
    left, middle, right = 10 * np.log10(power[top - 1 : top + 2] + 1e-30)
    bend = left - 2 * middle + right
    # At the edge of the range there may be no peak at all.
    shift = 0.5 * (left - right) / bend if bend < 0 and middle >= max(left, right) else 0.0
    return hertz[top] + shift * (hertz[1] - hertz[0]), middle - 0.25 * (left - right) * shift


def partials(sound, rate, around, highest=5000):
    """Numbers, frequencies and levels of the partials of a note near `around` hertz, 0.1 s after its onset on."""
    size = int(min(1.0, (len(sound) / rate - 0.15)) * rate)
    power, hertz = spectrum(sound[int(0.1 * rate) :], rate, size)
    first, level = peak_near(power, hertz, around, 0.03 * around)
    found, stiffness = [(1, first, level)], 0.0
    loudest = level
    for number in range(2, int(highest / first)):
        expected = number * first * np.sqrt(1 + stiffness * number**2)
        at, level = peak_near(power, hertz, expected, 0.2 * first)
        loudest = max(loudest, level)
        if level < loudest - 45:
            continue
        found.append((number, at, level))
        # Fewer would send the search astray.
        stiffness = inharmonicity(found) if len(found) >= 6 else 0.0
    return found


def inharmonicity(found):
    """B of f_k = k·f0·√(1 + B·k²) (Fletcher 1964), by the least squares of (f_k/k)² over k²; below 3 kHz, where
    partials stand out."""
    found = [partial for partial in found if partial[1] < 3000]
    if len(found) < 3:
        return 0.0
    number, hertz, level = (np.array(column, float) for column in zip(*found, strict=True))
    weight = 10 ** ((level - level.max()) / 40)
    slope, floor = np.polyfit(number**2, (hertz / number) ** 2, 1, w=weight)
    return max(0.0, slope / floor)


def centroid(sound, rate, at_s, size_s=0.046):
    """Centre of gravity of the power, in a window around `at_s` after the onset."""
    begin = max(0, int((at_s - size_s / 2) * rate))
    power, hertz = spectrum(sound[begin:], rate, int(size_s * rate))
    return float((power * hertz).sum() / power.sum())


def attack_ms(sound, rate):
    """From 10 to 90 % of the envelope's peak, the envelope being the root mean square of 3 ms."""
    length = int(0.003 * rate)
    power = np.convolve(sound[: rate // 4] ** 2, np.ones(length) / length)
    envelope = np.sqrt(power)
    top = envelope.max()
    return 1000 * float(np.argmax(envelope > 0.9 * top) - np.argmax(envelope > 0.1 * top)) / rate


def octave(sound, rate, centre):
    """What lies within the octave around `centre`."""
    size = 1 << len(sound).bit_length()
    spectrum = np.fft.rfft(sound, size)
    hertz = np.fft.rfftfreq(size, 1 / rate)
    edge = np.clip(1 - np.abs(np.log2(np.maximum(hertz, 1) / centre)) * 4 + 2, 0, 1)
    return np.fft.irfft(spectrum * edge, size)[: len(sound)]


def t60_s(sound, rate, centre):
    """Decay of an octave band by 60 dB: a line through the level from 0.1 s after the onset to 30 dB lower, or the end."""
    hop = int(0.02 * rate)
    band = octave(sound, rate, centre)
    frames = band[: len(band) // hop * hop].reshape(-1, hop)
    level = 10 * np.log10((frames**2).mean(axis=1) + 1e-20)
    level = level[5:-1]
    end = np.argmax(level < level[0] - 30) if (level < level[0] - 30).any() else len(level)
    if end < 5:
        return float("nan")
    slope = np.polyfit(np.arange(end) * hop / rate, level[:end], 1)[0]
    return float(-60 / slope) if slope < 0 else float("inf")


def slope_db(found):
    """Decibels an octave, through the partials' levels from the third on."""
    rest = [(np.log2(hertz), level) for number, hertz, level in found if number >= 2]
    if len(rest) < 3:
        return float("nan")
    return float(np.polyfit(*zip(*rest, strict=True), 1)[0])


def figures(sound, rate, around):
    """All of it, as a dict."""
    sound = sound[onset(sound, rate) :]
    found = partials(sound, rate, around)
    return {
        "first": found[0][1],
        "B": inharmonicity(found),
        "attack": attack_ms(sound, rate),
        "centroid": [centroid(sound, rate, at) for at in MOMENTS_S],
        "t60": [t60_s(sound, rate, band) for band in BANDS],
        "slope": slope_db(found),
    }
