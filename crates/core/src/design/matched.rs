//! Parts that are to match, as written names: `matched.1` is the first set, its value the names of the parts with commas between, or `none`.

use super::Design;
use super::decisions::DecisionError;

/// What takes a set back.
const NONE: &str = "none";
const WOULD_DO: &str = "write the names of two parts or more with commas between, rail.front.top, rail.front.bottom; or none";

/// Sets or takes back a set of parts, when `path` names one; nothing when it does not. A number beyond the last adds a set.
pub(super) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    let number = path.strip_prefix("matched.")?;
    let refused = || Err(DecisionError::Unreadable { path: path.to_owned(), found: text.to_owned(), expected: WOULD_DO.to_owned() });
    let Some(at) = number.parse::<usize>().ok().and_then(|number| number.checked_sub(1)) else { return Some(refused()) };
    let sets = &mut design.shop.matched;
    if text.trim() == NONE {
        if at < sets.len() {
            sets.remove(at);
        }
        return Some(Ok(()));
    }
    let names: Vec<String> = text.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect();
    if names.len() < 2 {
        return Some(refused());
    }
    match sets.get_mut(at) {
        Some(set) => *set = names,
        None => sets.push(names),
    }
    Some(Ok(()))
}

#[cfg(test)]
mod tests {
    use crate::design::decisions::set;
    use crate::design::text;

    #[test]
    fn sets_that_match_are_written_by_number() {
        let mut design = text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        set(&mut design, "matched.1", "rail.front.top, rail.front.bottom").expect("a set");
        assert_eq!(design.shop.matched, [["rail.front.top", "rail.front.bottom"]]);
        assert_eq!(text::read(&text::write(&design).expect("a text")).expect("the same"), design);
        let error = set(&mut design, "matched.1", "rail.front.top").expect_err("one alone").to_string();
        assert!(error.contains("two parts or more"), "{error}");
        assert!(set(&mut design, "matched.0", "a, b").is_err());
        set(&mut design, "matched.1", "none").expect("the way back");
        assert!(design.shop.matched.is_empty());
    }
}
