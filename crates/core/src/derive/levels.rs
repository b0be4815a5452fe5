//! The heights and depths that all assemblies share.

use super::{Builder, DesignError};
use crate::design::{Bottom, Dimension, Side, Top};
use crate::length::trimmed;
use crate::model::PartId;
use crate::origin::Size;
use crate::place::Dir;

/// The shared sizes of a case, each with its origin.
#[derive(Clone, Debug)]
pub struct Levels {
    /// Over the posts.
    pub width: Size,
    /// Over the posts.
    pub depth: Size,
    /// Section of a post along the width.
    pub post_width: Size,
    /// Section of a post along the depth.
    pub post_depth: Size,
    /// Length of a post.
    pub post_height: Size,
    /// Thickness of the rails.
    pub rail: Size,
    /// From the outer face of the posts to the rails.
    pub reveal: Size,
    /// Floor to lower edge of the bottom rails.
    pub foot: Size,
    /// Width of the bottom rails.
    pub bottom_rail: Size,
    /// Width of the top rails.
    pub top_rail: Size,
    /// Floor to upper edge of the bottom rails: the level of the case's floor.
    pub low: Size,
    /// Floor to lower edge of the top rails.
    pub high: Size,
    /// From `low` to `high`.
    pub opening: Size,
    /// From the outer face of the posts to the inner face of the rails.
    pub inner: Size,
}

/// The least opening that still is a case, mm: less is a slip.
const LEAST_OPENING: f64 = 20.0;

impl Levels {
    pub(crate) fn of(builder: &Builder<'_>) -> Result<Levels, Vec<DesignError>> {
        let size = |path: &str| builder.size(path);
        let (width, height, depth) = (size("carcase.width"), size("carcase.height"), size("carcase.depth"));
        let (post_width, post_depth) = (size("carcase.post.width"), size("carcase.post.depth"));
        let (rail, reveal, foot) = (size("carcase.rails.thickness"), size("carcase.rails.reveal"), size("carcase.rails.foot"));
        let (top_rail, bottom_rail) = (size("carcase.rails.top"), size("carcase.rails.bottom"));
        let post_height = match builder.design.carcase.top {
            Top::Slab(_) => {
                let top = builder.as_made("top", Dimension::Thickness, &size("carcase.top.thickness"));
                Size::sum("post: length", [(1.0, &height), (-1.0, &top)])
            }
            Top::Open => height.named("post: length"),
        };
        let low = Size::sum("upper edge of the bottom rails", [(1.0, &foot), (1.0, &bottom_rail)]);
        let high = Size::sum("lower edge of the top rails", [(1.0, &post_height), (-1.0, &top_rail)]);
        let opening = Size::sum("opening between bottom and top rail", [(1.0, &high), (-1.0, &low)]);
        let inner = Size::sum("inner face of the rails", [(1.0, &reveal), (1.0, &rail)]);
        let levels = Levels {
            width,
            depth,
            post_width,
            post_depth,
            post_height,
            rail,
            reveal,
            foot,
            bottom_rail,
            top_rail,
            low,
            high,
            opening,
            inner,
        };
        let errors = levels.errors(builder);
        if errors.is_empty() { Ok(levels) } else { Err(errors) }
    }

    /// From the outer face of the posts to the inner face of a rail, as thick as it was made; `through` is the way of its thickness.
    pub(crate) fn inner_of(&self, builder: &Builder<'_>, rail: PartId, through: Dir) -> Size {
        let thickness = builder.as_made_along(rail, through, &self.rail);
        if thickness == self.rail {
            return self.inner.clone();
        }
        Size::sum("inner face of the rail", [(1.0, &self.reveal), (1.0, &thickness)])
    }

    /// How far the posts of the left or of the right side reach along the width, as they came out: the one that reaches farther.
    pub(crate) fn posts_across(&self, builder: &Builder<'_>, left: bool) -> Size {
        // As they lie: the face edge of the one looks along the width, and that of the other along the depth.
        let posts = if left {
            [("post.front.left", Dimension::Width), ("post.back.left", Dimension::Thickness)]
        } else {
            [("post.front.right", Dimension::Thickness), ("post.back.right", Dimension::Width)]
        };
        let [front, back] = posts.map(|(name, of)| builder.as_made(name, of, &self.post_width));
        if back.mm > front.mm { back } else { front }
    }

    fn errors(&self, builder: &Builder<'_>) -> Vec<DesignError> {
        let mut errors = Vec::new();
        let mut no_room =
            |path: &str, problem: String, remedy: String| errors.push(DesignError::NoRoom { path: path.to_owned(), problem, remedy });
        for (path, outside, post) in [("carcase.width", &self.width, &self.post_width), ("carcase.depth", &self.depth, &self.post_depth)] {
            if outside.mm - 2.0 * post.mm < LEAST_OPENING {
                no_room(
                    path,
                    format!("{} leaves no room between two posts of {}", trimmed(outside.mm), trimmed(post.mm)),
                    format!("it must be at least {} mm, or the posts thinner", trimmed(2.0 * post.mm + LEAST_OPENING)),
                );
            }
            if self.inner.mm > post.mm {
                no_room(
                    "carcase.rails.thickness",
                    format!(
                        "rail {} and reveal {} together are thicker than the post, {}",
                        trimmed(self.rail.mm),
                        trimmed(self.reveal.mm),
                        trimmed(post.mm)
                    ),
                    format!("the rail must be at most {} mm, or the reveal less", trimmed(post.mm - self.reveal.mm)),
                );
            }
        }
        if self.opening.mm < LEAST_OPENING {
            no_room(
                "carcase.height",
                format!("foot, rails and top leave an opening of {}", trimmed(self.opening.mm)),
                format!("make the case {} mm higher, or the rails narrower", trimmed(LEAST_OPENING - self.opening.mm)),
            );
        }
        if let Bottom::LooseFloor(_) = builder.design.carcase.bottom
            && (builder.design.carcase.back == Side::Open)
        {
            no_room(
                "carcase.back",
                "the floor lies on bearers at the front and back rails, and the back is open".to_owned(),
                "make the back a frame, or leave the floor out".to_owned(),
            );
        }
        // Width and depth may be wrong for the same reason.
        errors.dedup();
        errors
    }
}
