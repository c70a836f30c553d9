//! Exact fractions of any size, for sums of shares that are rounded once.

use num_rational::BigRational;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Sub};

/// An exact fraction: a share of a price, or a sum of such shares.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ratio(BigRational);

impl Default for Ratio {
    /// Nothing.
    fn default() -> Ratio {
        Ratio::whole(0)
    }
}

impl Ratio {
    /// A whole number.
    pub fn whole(number: i128) -> Ratio {
        Ratio(BigRational::from_integer(number.into()))
    }

    /// `above / below`; `below` is at least 1.
    pub fn new(above: i128, below: i128) -> Ratio {
        Ratio(BigRational::new(above.into(), below.max(1).into()))
    }

    /// Whether it is more than nothing.
    pub fn is_positive(&self) -> bool {
        *self > Ratio::default()
    }

    /// The largest whole number that is no more; the outermost of 128 bits where it is beyond them.
    pub fn floor(&self) -> i128 {
        self.limited(self.0.floor())
    }

    /// The least whole number that is no less.
    pub fn ceil(&self) -> i128 {
        self.limited(self.0.ceil())
    }

    /// So many times as much, rounded down: for long lists, without bringing anything to lowest terms. Neither is below
    /// nothing.
    pub fn floor_times(&self, times: i128) -> i128 {
        let whole = self.0.numer() * times / self.0.denom();
        self.limited(BigRational::from_integer(whole))
    }

    /// The nearest whole number, halves up.
    pub fn nearest(&self) -> i128 {
        (self.clone() + Ratio::new(1, 2)).floor()
    }

    fn limited(&self, rounded: BigRational) -> i128 {
        let outermost = if self.is_positive() { i128::MAX } else { i128::MIN };
        i128::try_from(rounded.to_integer()).unwrap_or(outermost)
    }

    /// The greatest fraction of which both are whole multiples; neither is below nothing.
    pub fn common_divisor(&self, other: &Ratio) -> Ratio {
        let (mut one, mut other) = (self.clone(), other.clone());
        while other.is_positive() {
            let rest = &one.0 % &other.0;
            (one, other) = (other, Ratio(rest));
        }
        one
    }

    /// Numerator and denominator in lowest terms; `None` where they are beyond 64 bits.
    pub fn terms(&self) -> Option<[i64; 2]> {
        let number = |number| i64::try_from(number).ok();
        Some([number(self.0.numer().clone())?, number(self.0.denom().clone())?])
    }
}

impl Add for Ratio {
    type Output = Ratio;
    fn add(self, other: Ratio) -> Ratio {
        Ratio(self.0 + other.0)
    }
}
impl Sub for Ratio {
    type Output = Ratio;
    fn sub(self, other: Ratio) -> Ratio {
        Ratio(self.0 - other.0)
    }
}
impl Mul<&Ratio> for &Ratio {
    type Output = Ratio;
    fn mul(self, other: &Ratio) -> Ratio {
        Ratio(&self.0 * &other.0)
    }
}
impl Mul<i128> for &Ratio {
    type Output = Ratio;
    fn mul(self, times: i128) -> Ratio {
        self * &Ratio::whole(times)
    }
}
impl Div<&Ratio> for &Ratio {
    type Output = Ratio;
    /// Nothing where it is divided by nothing.
    fn div(self, other: &Ratio) -> Ratio {
        if *other == Ratio::default() { Ratio::default() } else { Ratio(&self.0 / &other.0) }
    }
}
impl Sum for Ratio {
    fn sum<I: Iterator<Item = Ratio>>(ratios: I) -> Ratio {
        ratios.fold(Ratio::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_is_rounded_once() {
        let third = || Ratio::new(1, 3);
        assert_eq!((third() + third() + third()).nearest(), 1);
        assert_eq!(&third() * 3, Ratio::whole(1));
        assert_eq!([Ratio::new(1, 2), Ratio::new(-1, 2)].map(|half| half.nearest()), [1, 0]);
        assert_eq!([Ratio::new(7, 2), Ratio::new(-7, 2)].map(|it| it.floor()), [3, -4]);
        assert_eq!([Ratio::new(7, 2), Ratio::new(-7, 2)].map(|it| it.ceil()), [4, -3]);
        assert_eq!([third(), third()].into_iter().sum::<Ratio>(), Ratio::new(2, 3));
        assert_eq!(Ratio::whole(1) - third(), Ratio::new(2, 3));
        assert_eq!([5, 6].map(|times| third().floor_times(times)), [1, 2]);
    }

    #[test]
    fn nothing_leaves_its_bits() {
        let most = Ratio::whole(i128::MAX);
        assert_eq!((&most * &most).floor(), i128::MAX);
        assert_eq!((Ratio::default() - &most * &most).floor(), i128::MIN);
        assert_eq!(&(&most * &most) / &most, most);
        assert_eq!(most.terms(), None);
        assert_eq!(Ratio::new(6, 4).terms(), Some([3, 2]));
        assert_eq!(&most / &Ratio::default(), Ratio::default());
        assert_eq!(Ratio::new(5, 0), Ratio::whole(5));
    }

    #[test]
    fn what_divides_both_is_found() {
        let divisor = |one: Ratio, other: Ratio| one.common_divisor(&other);
        assert_eq!(divisor(Ratio::new(6, 5), Ratio::new(3, 4)), Ratio::new(3, 20));
        assert_eq!(divisor(Ratio::whole(12), Ratio::whole(18)), Ratio::whole(6));
        assert_eq!(divisor(Ratio::default(), Ratio::new(2, 3)), Ratio::new(2, 3));
    }
}
