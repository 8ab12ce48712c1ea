//! The cheapest way to carry something from where there is too much of it to where it is wanted.
//!
//! Minimum-cost flow by successive shortest paths, every arc usable as often as needed. Integers only.

/// A way from one place to another that costs so much each time it is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Arc {
    pub from: usize,
    pub to: usize,
    pub cost: u32,
}

/// How often each arc is used in a cheapest flow that brings every place's balance to zero.
///
/// `balance` is positive where there is too much. None when it cannot be done: the balances do not add up to zero,
/// or no way leads from a place with too much to one that wants it.
pub fn cheapest(places: usize, arcs: &[Arc], balance: &[i64]) -> Option<Vec<u64>> {
    let mut balance = balance.to_vec();
    balance.resize(places, 0);
    if balance.iter().sum::<i64>() != 0 {
        return None;
    }
    let mut used = vec![0_u64; arcs.len()];
    for source in 0..places {
        while *balance.get(source)? > 0 {
            let path = cheapest_path(places, arcs, &used, source, &balance)?;
            let amount = path.amount.min(*balance.get(source)?);
            for step in &path.steps {
                let uses = used.get_mut(step.arc)?;
                *uses = if step.back {
                    uses.checked_sub(amount.unsigned_abs())?
                } else {
                    uses.checked_add(amount.unsigned_abs())?
                };
            }
            *balance.get_mut(source)? -= amount;
            *balance.get_mut(path.target)? += amount;
        }
    }
    Some(used)
}

/// One arc of a path; `back` undoes an earlier use of it.
#[derive(Debug, Clone, Copy)]
struct Step {
    arc: usize,
    back: bool,
    before: usize,
}

struct Path {
    steps: Vec<Step>,
    target: usize,
    /// How much it can carry: what the target wants, and what may be undone on the way.
    amount: i64,
}

/// Bellman-Ford over the arcs and over the uses that could be undone (at minus their cost).
fn cheapest_path(places: usize, arcs: &[Arc], used: &[u64], source: usize, balance: &[i64]) -> Option<Path> {
    let mut cost: Vec<Option<i64>> = vec![None; places];
    let mut reached_by: Vec<Option<Step>> = vec![None; places];
    *cost.get_mut(source)? = Some(0);
    for _ in 0..places {
        let mut better = false;
        for (arc, Arc { from, to, cost: price }) in arcs.iter().enumerate() {
            let price = i64::from(*price);
            let undoable = used.get(arc).is_some_and(|uses| *uses > 0);
            for (before, after, price, back) in [(*from, *to, price, false), (*to, *from, -price, true)] {
                if back && !undoable {
                    continue;
                }
                let Some(known) = cost.get(before).copied().flatten() else {
                    continue;
                };
                let there = cost.get_mut(after)?;
                if there.is_none_or(|known_there| known + price < known_there) {
                    *there = Some(known + price);
                    *reached_by.get_mut(after)? = Some(Step { arc, back, before });
                    better = true;
                }
            }
        }
        if !better {
            break;
        }
    }
    let wants = |place: &usize| balance.get(*place).is_some_and(|balance| *balance < 0);
    let priced = (0..places)
        .filter(wants)
        .filter_map(|place| Some(((*cost.get(place)?)?, place)));
    let (_, target) = priced.min()?;
    let mut steps = Vec::new();
    let mut amount = -*balance.get(target)?;
    let mut place = target;
    while place != source {
        let step = (*reached_by.get(place)?)?;
        if step.back {
            amount = amount.min(i64::try_from(*used.get(step.arc)?).ok()?);
        }
        steps.push(step);
        place = step.before;
    }
    Some(Path { steps, target, amount })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(from: usize, to: usize, cost: u32) -> Arc {
        Arc { from, to, cost }
    }

    #[test]
    fn the_cheaper_of_two_ways_is_taken() {
        let arcs = [arc(0, 1, 5), arc(0, 2, 1), arc(2, 1, 1)];
        assert_eq!(cheapest(3, &arcs, &[2, -2, 0]), Some(vec![0, 2, 2]));
    }

    /// The first path found takes the middle arc; the best answer has to undo that.
    #[test]
    fn an_early_choice_is_undone_where_that_is_cheaper() {
        let arcs = [arc(0, 2, 1), arc(0, 3, 9), arc(1, 2, 2), arc(1, 3, 100)];
        assert_eq!(cheapest(4, &arcs, &[1, 1, -1, -1]), Some(vec![0, 1, 1, 0]));
    }

    #[test]
    fn what_cannot_be_carried_is_said() {
        assert_eq!(cheapest(2, &[], &[1, -1]), None);
        assert_eq!(cheapest(2, &[arc(0, 1, 1)], &[1, 0]), None);
    }
}
