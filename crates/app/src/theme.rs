//! Colours, type and spacing.
