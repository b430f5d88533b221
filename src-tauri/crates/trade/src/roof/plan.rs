//! Plane geometry over exact decimals, in inches: what a careful person would do with a scale and a square.

use rust_decimal::Decimal;

/// Half an inch: what drawing and rounding corners may lose without changing the roof (company rule).
pub(crate) const NEAR_IN: Decimal = Decimal::from_parts(5, 0, 0, false, 1);

/// A place on the plan, or the way from one place to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spot {
    pub(crate) x: Decimal,
    pub(crate) y: Decimal,
}

impl Spot {
    /// The way to here from `other`.
    pub(crate) fn from(self, other: Spot) -> Spot {
        Spot { x: self.x - other.x, y: self.y - other.y }
    }

    /// Twice the area between two ways; above zero where `other` turns left.
    pub(crate) fn cross(self, other: Spot) -> Decimal {
        self.x * other.y - self.y * other.x
    }

    pub(crate) fn dot(self, other: Spot) -> Decimal {
        self.x * other.x + self.y * other.y
    }

    /// The same way turned a quarter to the left.
    pub(crate) fn left(self) -> Spot {
        Spot { x: -self.y, y: self.x }
    }

    pub(crate) fn back(self) -> Spot {
        Spot { x: -self.x, y: -self.y }
    }

    /// As far along `way` as `share` of it says.
    pub(crate) fn along(self, way: Spot, share: Decimal) -> Spot {
        Spot { x: self.x + way.x * share, y: self.y + way.y * share }
    }
}

/// The square root, to all the digits that a decimal holds: the whole-number root of the digits gives 18 of them or
/// more, and one step of Newton's doubles that. Zero for what is not above zero.
pub(crate) fn root(value: Decimal) -> Decimal {
    if value <= Decimal::ZERO {
        return Decimal::ZERO;
    }
    let value = value.normalize();
    let (mut digits, mut places) = (value.mantissa().unsigned_abs(), value.scale());
    while digits < u128::MAX / 100 && places < 54 {
        digits *= 10;
        places += 1;
    }
    if places % 2 == 1 {
        digits /= 10;
        places -= 1;
    }
    let whole = i128::try_from(digits.isqrt()).unwrap_or(i128::MAX);
    let Ok(guess) = Decimal::try_from_i128_with_scale(whole, places / 2) else { return Decimal::ZERO };
    if guess.is_zero() {
        return Decimal::ZERO;
    }
    ((guess + value / guess) / Decimal::TWO).normalize()
}

/// Twice the area inside the corners; above zero where they run to the left.
pub(crate) fn twice_area(corners: &[Spot]) -> Decimal {
    let Some(first) = corners.first() else { return Decimal::ZERO };
    let ways: Vec<Spot> = corners.iter().map(|corner| corner.from(*first)).collect();
    ways.windows(2).map(|pair| pair[0].cross(pair[1])).sum()
}

/// Each edge as its two ends, in order, back to the first corner.
pub(crate) fn edges(corners: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

/// The first two edges that cross, touch away from a corner, or run back over each other; counted from 0.
pub(crate) fn crossing(corners: &[Spot]) -> Option<(usize, usize)> {
    let all: Vec<(Spot, Spot)> = edges(corners).collect();
    for (i, a) in all.iter().enumerate() {
        for (j, b) in all.iter().enumerate().skip(i + 1) {
            let next = j == i + 1;
            let wraps = i == 0 && j + 1 == all.len();
            let crosses = if next {
                runs_back(*a, *b)
            } else if wraps {
                runs_back(*b, *a)
            } else {
                touch(*a, *b)
            };
            if crosses {
                return Some((i, j));
            }
        }
    }
    None
}

/// Whether the second edge, which begins where the first ends, runs back over it.
fn runs_back(first: (Spot, Spot), second: (Spot, Spot)) -> bool {
    let (a, b) = (first.1.from(first.0), second.1.from(second.0));
    a.cross(b).is_zero() && a.dot(b) < Decimal::ZERO
}

fn touch(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    let side = |line: (Spot, Spot), spot: Spot| line.1.from(line.0).cross(spot.from(line.0));
    let (b0, b1, a0, a1) = (side(a, b.0), side(a, b.1), side(b, a.0), side(b, a.1));
    let apart = |one: Decimal, two: Decimal| {
        (one > Decimal::ZERO && two < Decimal::ZERO) || (one < Decimal::ZERO && two > Decimal::ZERO)
    };
    if apart(b0, b1) && apart(a0, a1) {
        return true;
    }
    let on = |line: (Spot, Spot), spot: Spot, side: Decimal| {
        side.is_zero() && spot.from(line.0).dot(spot.from(line.1)) <= Decimal::ZERO
    };
    on(a, b.0, b0) || on(a, b.1, b1) || on(b, a.0, a0) || on(b, a.1, a1)
}

/// The square of the distance of a spot from an edge.
pub(crate) fn distance_squared(spot: Spot, edge: (Spot, Spot)) -> Decimal {
    let way = edge.1.from(edge.0);
    let length_squared = way.dot(way);
    let to = spot.from(edge.0);
    if length_squared.is_zero() {
        return to.dot(to);
    }
    let share = (to.dot(way) / length_squared).clamp(Decimal::ZERO, Decimal::ONE);
    let off = spot.from(edge.0.along(way, share));
    off.dot(off)
}

/// A triangle, its corners running to the left.
pub(crate) type Triangle = [Spot; 3];

/// Cuts what the corners enclose into triangles, one ear after the other.
pub(crate) fn triangles(corners: &[Spot]) -> Vec<Triangle> {
    let mut left: Vec<Spot> = corners.to_vec();
    if twice_area(&left) < Decimal::ZERO {
        left.reverse();
    }
    let mut cut = Vec::new();
    while left.len() >= 3 {
        let count = left.len();
        let at = |index: usize| [left[(index + count - 1) % count], left[index], left[(index + 1) % count]];
        let turn = |[a, b, c]: Triangle| b.from(a).cross(c.from(b));
        // A corner on a straight edge encloses nothing.
        let straight = (0..count).find(|index| turn(at(*index)).is_zero());
        let ear = straight.or_else(|| {
            (0..count).find(|index| {
                let ear = at(*index);
                turn(ear) > Decimal::ZERO && !left.iter().any(|spot| !ear.contains(spot) && holds(ear, *spot))
            })
        });
        let Some(index) = ear else { break };
        if straight.is_none() {
            cut.push(at(index));
        }
        left.remove(index);
    }
    cut
}

fn holds([a, b, c]: Triangle, spot: Spot) -> bool {
    [(a, b), (b, c), (c, a)].iter().all(|(p, q)| q.from(*p).cross(spot.from(*p)) >= Decimal::ZERO)
}

/// What two triangles have in common: its corners, none where they are apart.
pub(crate) fn common(a: Triangle, b: Triangle) -> Vec<Spot> {
    let mut rest: Vec<Spot> = a.to_vec();
    for (p, q) in [(b[0], b[1]), (b[1], b[2]), (b[2], b[0])] {
        let side = |spot: Spot| q.from(p).cross(spot.from(p));
        let mut kept = Vec::new();
        for (from, to) in edges(&rest) {
            let (here, there) = (side(from), side(to));
            if here >= Decimal::ZERO {
                kept.push(from);
            }
            if (here > Decimal::ZERO && there < Decimal::ZERO)
                || (here < Decimal::ZERO && there > Decimal::ZERO)
            {
                kept.push(from.along(to.from(from), here / (here - there)));
            }
        }
        rest = kept;
    }
    rest
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(x: i64, y: i64) -> Spot {
        Spot { x: x.into(), y: y.into() }
    }

    #[test]
    fn a_root_has_all_its_digits() {
        let known = [
            ("2", "1.4142135623730950488016887242"),
            ("3", "1.7320508075688772935274463415"),
            ("5", "2.2360679774997896964091736687"),
            ("0.5", "0.7071067811865475244008443621"),
            ("1000000000000000000", "1000000000"),
            ("144", "12"),
            ("0.0001", "0.01"),
        ];
        for (value, wanted) in known {
            let (value, wanted): (Decimal, Decimal) = (value.parse().unwrap(), wanted.parse().unwrap());
            let found = root(value);
            assert!((found - wanted).abs() < Decimal::new(1, 24), "the root of {value} is {found}");
        }
        assert_eq!(root(Decimal::ZERO), Decimal::ZERO);
        assert_eq!(root(Decimal::NEGATIVE_ONE), Decimal::ZERO);
        // The largest and the smallest that a decimal holds: no overflow, and the square comes back.
        let large = root(Decimal::MAX);
        assert!((large - Decimal::new(281_474_976_710_656, 0)).abs() < Decimal::ONE, "{large}");
        assert_eq!(root(Decimal::new(1, 28)), Decimal::new(1, 14));
    }

    #[test]
    fn triangles_fill_a_shape_with_an_inner_corner() {
        let ell =
            [spot(0, 0), spot(30, 0), spot(40, 0), spot(40, 20), spot(20, 20), spot(20, 50), spot(0, 50)];
        let filled: Decimal = triangles(&ell).iter().map(|triangle| twice_area(triangle)).sum();
        assert_eq!(filled, twice_area(&ell));
        let mut other_way = ell.to_vec();
        other_way.reverse();
        let filled: Decimal = triangles(&other_way).iter().map(|triangle| twice_area(triangle)).sum();
        assert_eq!(filled, twice_area(&ell));
    }

    #[test]
    fn triangles_share_the_area_that_lies_in_both() {
        let a = [spot(0, 0), spot(10, 0), spot(0, 10)];
        assert_eq!(twice_area(&common(a, a)), Decimal::from(100));
        let beside = [spot(0, 0), spot(0, 10), spot(-10, 0)];
        assert_eq!(twice_area(&common(a, beside)), Decimal::ZERO);
        // The square from (0, 0) to (2, 2), less what lies beyond the slanted edge: nothing.
        let over = [spot(0, 0), spot(4, 0), spot(0, 4)];
        assert_eq!(twice_area(&common(a, over)), Decimal::from(16));
        assert!(common(a, [spot(20, 20), spot(30, 20), spot(20, 30)]).is_empty());
    }

    #[test]
    fn crossings_touches_and_foldings_are_seen() {
        assert_eq!(crossing(&[spot(0, 0), spot(10, 0), spot(10, 10), spot(0, 10)]), None);
        assert_eq!(crossing(&[spot(0, 0), spot(10, 10), spot(10, 0), spot(0, 10)]), Some((0, 2)));
        // The third corner lies on the first edge.
        assert_eq!(crossing(&[spot(0, 0), spot(10, 0), spot(10, 10), spot(5, 0), spot(0, 10)]), Some((0, 2)));
        assert_eq!(crossing(&[spot(0, 0), spot(10, 0), spot(5, 0), spot(0, 10)]), Some((0, 1)));
        assert_eq!(crossing(&[spot(0, 0), spot(10, 0), spot(10, 10), spot(15, 0)]), Some((0, 3)));
    }
}
