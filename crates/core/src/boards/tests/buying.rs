//! What is bought of a dealer's list.

use super::*;
use crate::design::dealer::{self, Offer};

fn offers() -> Vec<Offer> {
    let listed = dealer::read(include_str!("../../../../../examples/dealer.csv"), Bare::Mm);
    assert_eq!(listed.bad, []);
    listed.rows
}

/// With nothing on hand everything is bought: all parts come out of it, packs are whole, each timber and thickness has a board to spare, and the total is what a
/// calculator gives. Should any one board be bad, the rest takes its parts; with nothing to spare it does not.
#[test]
fn what_to_buy_is_enough_and_so_is_what_is_to_spare() {
    let mut design = demo();
    design.shop.pile.clear();
    let (model, offers) = (crate::derive(&design).expect("the demo"), offers());
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    assert_eq!((bought.cutting.left.as_slice(), bought.cutting.told.as_slice()), (&[] as &[Left], &[] as &[String]));
    design.shop.pile.clone_from(&bought.pile);
    holds(&design, &bought.cutting);
    let mut total = 0.0;
    for line in &bought.lines {
        let offer = &offers[line.offer];
        let cut = bought.cutting.boards.iter().filter(|board| bought.pile[board.entry].name == offer.name).count();
        assert_eq!((line.cut as usize, line.count() % offer.pack), (cut, 0), "{line:?}");
        assert!(offer.available.is_none_or(|there| line.count() <= there), "{line:?}");
        total += f64::from(line.count()) * offer.each();
    }
    assert!((bought.total - total).abs() < 1e-6, "{total}");
    for thickness in [27.0, 34.0, 60.0, 12.75, 18.4] {
        let of_it = bought.lines.iter().filter(|line| (offers[line.offer].thickness.to_mm() - thickness).abs() < 0.1);
        assert!(of_it.map(|line| line.spare + line.over).sum::<u32>() >= 1, "{thickness}: {:?}", bought.lines);
    }
    assert_eq!(bought.bad.len(), bought.cutting.boards.len());
    for bad in &bought.bad {
        assert!(!bad.marks.is_empty() && bad.left.is_empty(), "{bad:?}");
    }
    design.shop.pile.clear();
    design.timber.rough.spare = 0;
    let tight = buy(&design, &model, &offers, Effort::rounds(1));
    assert!(tight.total < bought.total);
    let posts = tight.bad.iter().find(|bad| bad.board.starts_with("Ash 60")).expect("posts come out of 60");
    assert!(posts.left.iter().any(|left| left.mark.starts_with('P')), "{posts:?}");
}

/// Where no more are to be had than are cut, that there is none to spare is told.
#[test]
fn what_can_t_be_had_to_spare_is_told() {
    let mut design = demo();
    design.shop.pile.clear();
    let (model, mut offers) = (crate::derive(&design).expect("the demo"), offers());
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    let cut = bought.lines.iter().find(|line| line.name == "Ash 60").expect("posts come out of 60").cut;
    offers.iter_mut().find(|offer| offer.name == "Ash 60").expect("it is offered").available = Some(cut);
    let tight = buy(&design, &model, &offers, Effort::rounds(1));
    assert!(tight.cutting.told.iter().any(|words| words.starts_with("Ash 60: 1 of 1 to spare")), "{:?}", tight.cutting.told);
    // What is bought, its spare with it, is what the job costs in boards and sheets.
    let mut with = design.clone();
    with.shop.pile.clone_from(&tight.pile);
    for design in [&design, &with] {
        let spent = Spent::with_bought(design, &tight);
        assert!((spent.worked().map(|worked| worked.value).sum::<f64>() - tight.total).abs() < 1e-6, "{spent:?}");
        assert!(spent.lines.iter().all(|line| line.bought), "{spent:?}");
    }
}

/// What is on hand is used first: where all comes out of it, nothing is bought; and of two offers that are alike the cheaper is bought.
#[test]
fn what_is_on_hand_is_used_first_and_the_cheaper_offer_is_taken() {
    let design = demo();
    let (model, mut all) = (crate::derive(&design).expect("the demo"), offers());
    let on_hand = buy(&design, &model, &all, Effort::rounds(2));
    assert_eq!((on_hand.lines.as_slice(), on_hand.total), (&[] as &[ToBuy], 0.0));
    let mut bare = design.clone();
    bare.shop.pile.clear();
    let dear =
        Offer { name: "Dear".to_owned(), price: 90.0, ..all.iter().find(|offer| offer.of == "veneered_mdf_12").expect("a sheet").clone() };
    all.insert(0, dear);
    let bought = buy(&bare, &model, &all, Effort::rounds(1));
    assert!(bought.lines.iter().all(|line| line.name != "Dear") && bought.lines.iter().any(|line| line.name == "Veneered MDF 12"));
}

/// A total does not pass for the whole where parts have no board: what is not in it is told with it.
#[test]
fn a_total_tells_what_is_not_in_it() {
    let mut design = demo();
    design.shop.pile.clear();
    let mut offers = offers();
    for offer in offers.iter_mut().filter(|offer| (offer.thickness.to_mm() - 60.0).abs() < 1e-9) {
        offer.length = [Length::mm(1200.0); 2];
    }
    let model = crate::derive(&design).expect("the demo");
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    let left: Vec<String> = bought.cutting.left.iter().map(|left| format!("{} × {}", left.count, left.mark)).collect();
    let words = bought.total_words("€");
    assert!(left.len() == 4 && !words.contains("in all") && words.ends_with(&format!(": {}", left.join(", "))), "{words}");
}

/// A sheet that is listed as what it is sold as, 12, is counted on to measure what is designed, and that is told; one that is listed as something else is not bought, and told as the dealer's.
#[test]
fn a_dealer_s_sheet_is_what_it_is_sold_as() {
    let mut design = demo();
    design.shop.pile.clear();
    let model = crate::derive(&design).expect("the demo");
    let listed_as = |thickness: f64| {
        let mut offers = offers();
        for offer in offers.iter_mut().filter(|offer| offer.of == "veneered_mdf_12") {
            offer.thickness = Length::mm(thickness);
        }
        buy(&design, &model, &offers, Effort::rounds(1))
    };
    let bought = listed_as(12.0);
    assert_eq!(bought.cutting.left, []);
    let told = |words: &&String| words.contains("sold as 12 mm") && words.contains("measure 12.75");
    assert_eq!(bought.cutting.told.iter().filter(told).count(), 1, "{:?}", bought.cutting.told);
    assert!(bought.lines.iter().any(|line| line.name == "Veneered MDF 12"));
    assert!(bought.pile.iter().all(|stuff| stuff.whence == pile::Whence::OnHand));
    let bought = listed_as(13.6);
    assert!(bought.lines.iter().all(|line| line.name != "Veneered MDF 12") && !bought.cutting.left.is_empty());
    let told = |words: &&String| words.starts_with("Of the dealer's list, \"Veneered MDF 12\": it measures 13.6 mm, too thick");
    assert_eq!(bought.cutting.told.iter().filter(told).count(), 1, "{:?}", bought.cutting.told);
}

/// What is glued onto a sheet comes out of boards: where such a board is bad it is the lipping, F1L, that loses its place, not the sheet; and only what lay on the bad board can be without one,
/// though there is no sheet that is as thick as is wanted. Each lipping, those across too, has a number of its own.
#[test]
fn a_bad_board_takes_lippings_and_not_their_sheets() {
    let mut design = demo();
    design.shop.pile.clear();
    design.timber.facing.floor.lipping = Length::mm(8.0);
    design.timber.facing.floor.edges = crate::design::Lipped::AllRound;
    design.timber.facing.floor.veneer = crate::design::Veneered::Bought;
    let model = crate::derive(&design).expect("the demo");
    let bought = buy(&design, &model, &offers(), Effort::rounds(1));
    assert!(bought.cutting.left.iter().any(|left| left.mark.starts_with('F')), "no sheet is 17.2 thick: {:?}", bought.cutting.left);
    let mut with = design.clone();
    with.shop.pile.clone_from(&bought.pile);
    holds(&with, &bought.cutting);
    let lippings = bought.bad.iter().flat_map(|bad| &bad.marks).filter(|(mark, _)| mark.starts_with('F'));
    assert!(lippings.clone().all(|(mark, _)| mark.ends_with('L') || mark.ends_with('X')) && lippings.count() > 0, "{:?}", bought.bad);
    for bad in &bought.bad {
        let lost = |mark: &str| bad.marks.iter().find(|(lost, _)| lost == mark).map_or(0, |(_, count)| *count);
        assert!(bad.left.iter().all(|left| left.count as usize <= lost(&left.mark)), "{bad:?}");
        assert_eq!(bad.left, [], "there is a board to spare of each that is cut");
    }
}

/// Veneer that is sawn here is told with the layouts and with what is bought: how much, of what, and the size of each leaf. By hand: twice the faces, each 1.5 and what sawing takes thick, with what is
/// bought besides for waste, as the take-off has it.
#[test]
fn veneer_that_is_sawn_here_is_told_with_what_is_bought() {
    let mut design = demo();
    let told = |cutting: &Cutting| cutting.told.iter().find(|words| words.starts_with("Veneer for ")).cloned();
    assert_eq!(told(&cut_of(&design).1), None);
    design.timber.facing.panel.veneer = crate::design::Veneered::Sawn;
    let (model, cutting) = cut_of(&design);
    let taken = crate::takeoff::TakeOff::of(&design, &model);
    let volume = crate::length::trimmed_to(taken.veneer[0].to_buy.value, 4);
    let bought = buy(&design, &model, &offers(), Effort::rounds(1)).cutting;
    for cutting in [&cutting, &bought] {
        let words = told(cutting).expect("it is told");
        assert!(words.contains(&format!("{volume} m³ of Ash, white")) && words.contains("PA1"), "{words}");
        for part in model.parts.iter().filter(|part| part.kind == PartKind::Panel) {
            let count = model.parts.iter().filter(|other| other.mark == part.mark).count();
            let size = [part.lwt().x, part.lwt().y].map(|mm| crate::length::trimmed_to(mm, 1)).join(" × ");
            let is_it = |left: &&Left| left.mark == part.mark && left.words.contains("veneer") && left.words.contains(&size);
            assert!(
                cutting.besides.iter().find(is_it).is_some_and(|left| left.count as usize == 2 * count),
                "{} {:?}",
                part.mark,
                cutting.besides
            );
        }
    }
}
