//! Steps of whole numbers.

/// The greatest whole number that divides all of these, none of them below zero; 0 where all are 0.
pub fn greatest_common_divisor(numbers: impl IntoIterator<Item = i64>) -> i64 {
    let of_two = |mut one: i64, mut other: i64| {
        while other != 0 {
            (one, other) = (other, one % other);
        }
        one
    };
    numbers.into_iter().fold(0, of_two)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_divides_all_is_found() {
        assert_eq!(greatest_common_divisor([12, 18, 0, 30]), 6);
        assert_eq!(greatest_common_divisor([7, 5]), 1);
        assert_eq!(greatest_common_divisor([0, 0]), 0);
        assert_eq!(greatest_common_divisor([]), 0);
    }
}
