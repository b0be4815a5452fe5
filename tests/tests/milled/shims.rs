//! Shims: what makes up for what a rail lacks.

use casewright_core::design::Dimension::{Length as L, Thickness as T};
use casewright_core::design::shop::State;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_tests::{demo, demo_with};

use crate::{case, make, measure, of_shop, size};

/// Loose tenons of 50 in mortises 26.5 deep in the rail and 24.5 in the post, half a millimetre of room at each bottom: 26 in the rail. Through a shim
/// of 14 there are 12 left, which hold (half again as thick as 8); through one of 15 there are 11, and through one of 60 none.
#[test]
fn a_shim_is_offered_only_while_its_tenon_holds_through_it() {
    for (joint, short, offered) in [
        ("loose_tenons", 14.0, true),
        ("loose_tenons", 15.0, false),
        ("loose_tenons", 60.0, false),
        ("dowels", 60.0, false),
        ("mortise_and_tenon", 60.0, false),
    ] {
        let mut design = demo_with(&[("joinery.rail_to_post.by", joint)]);
        let planned = size(&case(&design), "rail.front.bottom", L);
        measure(&mut design, "rail.front.bottom", L, planned - short);
        make(&mut design, "rail.front.bottom", State::Cut);
        let case = case(&design);
        let told =
            of_shop(&case).into_iter().find(|finding| finding.rule == Rule::MadePartFits && finding.seriousness == Seriousness::WillFail);
        let finding = told.unwrap_or_else(|| panic!("{joint} {short}: {:#?}", case.findings));
        let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert_eq!(words.iter().any(|words| words.contains("shim")), offered, "{joint} {short}: {words:?}");
        assert!(words.iter().any(|words| words.contains("new, ")), "{words:?}");
        assert!(words.iter().any(|words| words.contains("case width")), "{words:?}");
    }
}

/// What lies on others at both its ends is not saved by a shim at one.
#[test]
fn a_slat_cut_too_thin_is_offered_no_shim() {
    let mut design = demo();
    let planned = size(&case(&design), "slat.1.1.1", T);
    measure(&mut design, "slat.1.1.1", T, planned - 8.0);
    make(&mut design, "slat.1.1.1", State::Cut);
    let case = case(&design);
    let told = of_shop(&case);
    assert!(told.iter().any(|finding| finding.message.contains("8 mm too thin")), "{told:#?}");
    let words: Vec<_> = told.iter().flat_map(|finding| &finding.remedies).map(|remedy| remedy.words.as_str()).collect();
    assert!(!words.iter().any(|words| words.contains("shim")), "{words:?}");
    assert!(words.iter().any(|words| words.contains("Make it new")), "{words:?}");
}
