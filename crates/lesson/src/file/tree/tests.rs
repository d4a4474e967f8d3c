//! The walk against `ron` itself: whatever `ron` accepts has a tree, with the same values in the same places.

use proptest::prelude::{Just, ProptestConfig, Strategy, prop, prop_assert, prop_oneof, proptest};
use proptest::test_runner::RngSeed;
use serde::de::IgnoredAny;

use super::{Kind, Node, parse};

/// Every scalar and text of a tree, read again by `ron` from its own place in the source.
fn check_places(text: &str, node: &Node) {
    let source = &text[node.span.start..node.span.end];
    match &node.kind {
        Kind::Text(value) if !source.starts_with("Some") => {
            assert_eq!(ron::from_str::<String>(source).as_ref(), Ok(value), "{source}");
        }
        Kind::Struct { fields, .. } => fields.iter().for_each(|field| {
            assert!(text[field.span.start..].trim_start_matches("r#").starts_with(&field.name));
            check_places(text, &field.value);
        }),
        Kind::List(items) => items.iter().for_each(|item| check_places(text, item)),
        Kind::Map(pairs) => pairs.iter().for_each(|(key, value)| {
            check_places(text, key);
            check_places(text, value);
        }),
        Kind::Text(_) | Kind::Tuple | Kind::Scalar(_) => {}
    }
}

fn blank() -> impl Strategy<Value = &'static str> {
    prop_oneof![Just(""), Just(" "), Just("\n"), Just("/* a /* b */ ( */"), Just("// [ {\n")]
}

fn value() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        prop::sample::select(vec![
            "1",
            "-2.5e3",
            "0x1F",
            "1_000",
            "NaN",
            "inf",
            "true",
            "None",
            "Unit",
            "'a'",
            r"'\''",
            "'\"'",
            "()",
            "b\"x\"",
            "br#\"a\"b\"#",
            "1u8",
            "b'z'",
            "\"a\\\"b\\\\\"",
            "\"\\u{266F}\"",
            "r\"\\\"",
            "r##\"a\"#b\"##",
            "\"two\nlines\"",
        ])
        .prop_map(str::to_owned),
        "[a-zé♯ (\\[]{0,8}".prop_map(|text| format!("\"{text}\"")),
    ];
    leaf.prop_recursive(4, 40, 4, |inner| {
        let many = || prop::collection::vec((blank(), inner.clone(), blank()), 0..4);
        let join = |items: &[String]| items.join(",");
        prop_oneof![
            many().prop_map(move |items| format!("[{}]", join(&padded(&items)))),
            many().prop_map(move |items| {
                let fields: Vec<String> =
                    padded(&items).iter().enumerate().map(|(index, item)| format!("f{index} :{item}")).collect();
                format!("Thing({},)", join(&fields)).replace("(,)", "()")
            }),
            many().prop_map(move |items| {
                let pairs: Vec<String> =
                    padded(&items).iter().enumerate().map(|(index, item)| format!("{index}:{item}")).collect();
                format!("{{{}}}", join(&pairs))
            }),
            (inner.clone(), inner.clone()).prop_map(|(one, two)| format!("({one},{two})")),
            inner.prop_map(|one| format!("Some({one})")),
        ]
    })
}

fn padded(items: &[(&'static str, String, &'static str)]) -> Vec<String> {
    items.iter().map(|(before, item, after)| format!("{before}{item}{after}")).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(6), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_ron_accepts_has_a_tree(text in value()) {
        let accepted = ron::Options::default().from_str::<IgnoredAny>(&text).is_ok();
        let tree = parse(&text);
        prop_assert!(!accepted || tree.is_ok(), "{:?}: {}", tree.err(), text);
        if let (true, Ok(tree)) = (accepted, tree) {
            check_places(&text, &tree);
        }
    }

    #[test]
    fn ron_accepts_most_of_these(values in prop::collection::vec(value(), 30)) {
        let accepted = values.iter().filter(|text| ron::Options::default().from_str::<IgnoredAny>(text).is_ok()).count();
        prop_assert!(accepted >= 15, "only {} of 30 test anything", accepted);
    }
}
