//! Colours stand out, glyphs are there, sizes can be read.

use egui::Color32;

use super::{Face, Look, Palette, Sheet, cap_height_mm, contrast, font, install};

const SHEETS: [Sheet; 4] = [Sheet::Light, Sheet::Dark, Sheet::ContrastLight, Sheet::ContrastDark];

#[test]
fn contrast_follows_the_formula_of_the_standard() {
    // WCAG 2.2; the first row is the blue of Okabe and Ito's set on white, 5.19.
    let rows = [
        (Color32::from_rgb(0x00, 0x72, 0xB2), Color32::WHITE, 5.19),
        (Color32::BLACK, Color32::WHITE, 21.0),
        (Color32::WHITE, Color32::WHITE, 1.0),
    ];
    for (one, other, expected) in rows {
        assert!((contrast(one, other) - expected).abs() < 0.01, "{one:?} on {other:?}");
        assert!((contrast(other, one) - expected).abs() < 0.01, "{other:?} on {one:?}");
    }
}

#[test]
fn everything_read_stands_out_on_both_grounds() {
    // WCAG 2.2, 1.4.3: 4.5 for text. 1.4.6: 7 on the high-contrast sheets.
    for sheet in SHEETS {
        let p = Palette::of(sheet);
        let least = if matches!(sheet, Sheet::ContrastLight | Sheet::ContrastDark) { 7.0 } else { 4.5 };
        for ground in [p.sheet, p.surround, p.shade] {
            for text in [p.ink, p.quiet, p.now, p.late, p.heard] {
                let found = contrast(text, ground);
                assert!(found >= least, "{sheet:?}: {text:?} on {ground:?} is {found:.2}");
            }
        }
        assert!(contrast(p.sheet, p.ink) >= least, "{sheet:?}: a filled button's words");
    }
}

#[test]
fn everything_drawn_stands_out_where_it_lies() {
    // WCAG 2.2, 1.4.11: 3 for graphics one must see.
    for sheet in SHEETS {
        let p = Palette::of(sheet);
        let pairs = [(p.thin, p.sheet), (p.thin, p.shade), (p.wood, p.surround), (p.wood, p.sheet)];
        for (mark, ground) in pairs {
            let found = contrast(mark, ground);
            assert!(found >= 3.0, "{sheet:?}: {mark:?} on {ground:?} is {found:.2}");
        }
        assert!(contrast(p.wood, p.pale_wood) > 1.3, "{sheet:?}: done and to come can be told apart");
    }
}

#[test]
fn every_sign_in_use_has_a_glyph_in_every_cut() {
    let ctx = egui::Context::default();
    install(&ctx);
    let signs = "♭♯♮×○●…–—·°−+←→↑↓△▽◁▷%“”’&ABCDEFGabcdefgmN.C0123456789";
    let mut missing = Vec::new();
    let output = ctx.run_ui(egui::RawInput::default(), |ui| {
        for face in Face::ALL {
            ui.ctx().fonts_mut(|fonts| {
                missing
                    .extend(signs.chars().filter(|sign| !fonts.has_glyph(&font(face, 20.0), *sign)).map(|s| (face, s)));
            });
        }
    });
    output.drop_without_applying_deltas();
    assert_eq!(missing, []);
}

#[test]
fn capitals_subtend_the_angle_asked_for() {
    // 20 minutes of arc from 1.0 m are 5.82 mm (H = 2·D·tan(θ/2)).
    assert!((cap_height_mm(1.0, 20.0) - 5.82).abs() < 0.02);
    // At the drawn-for distance every size read while playing (20 and up) is above the least.
    let look = Look::default();
    assert!(look.least_pt() <= 20.0, "{}", look.least_pt());
    // On a screen twice as fine, and from twice as far, twice as many points are needed.
    let fine = Look { points_per_mm: look.points_per_mm * 2.0, ..look };
    let far = Look { distance_m: look.distance_m * 2.0, ..look };
    for (name, other) in [("fine", fine), ("far", far)] {
        assert!((other.least_pt() / look.least_pt() - 2.0).abs() < 1e-3, "{name}");
    }
    // A card of ISO/IEC 7810 ID-1 is 3.370 inches wide: 323.5 points at 96 dpi.
    assert!((Look::CARD_MM.0 * look.points_per_mm - 3.370 * 96.0).abs() < 0.05);
}
