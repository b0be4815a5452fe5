//! Systems of linear equations, small and full.

/// What solves `count` equations, each a row of as many factors with its right sides at its end: the same rows, with the unknowns in place of the right
/// sides. By Gauss and Jordan, with the greatest pivot; nothing where a pivot is next to none, so rows should be of the order of 1.
pub(crate) fn solve(mut rows: Vec<Vec<f64>>, count: usize) -> Option<Vec<Vec<f64>>> {
    for column in 0..count {
        let pivot = (column..count).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, pivot);
        let own = rows[column].clone();
        if own[column].is_nan() || own[column].abs() < 1e-11 {
            return None;
        }
        for (index, row) in rows.iter_mut().enumerate() {
            let share = row[column] / own[column];
            if index == column {
                row[column..].iter_mut().for_each(|figure| *figure /= own[column]);
            } else if share != 0.0 {
                row[column..].iter_mut().zip(&own[column..]).for_each(|(figure, own)| *figure -= share * own);
            }
        }
    }
    Some(rows)
}
