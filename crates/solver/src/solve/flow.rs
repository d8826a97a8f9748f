//! Exact flows of least cost in small networks.
//!
//! Successive shortest paths, each found by Bellman and Ford: no float, no tolerance. Meant for some
//! tens or hundreds of nodes.

/// Returned for paths that do not exist; far from overflow when a cost is added.
const FAR: i64 = i64::MAX / 4;

/// Half of an arc: forwards, or what may be sent back.
#[derive(Debug, Clone, Copy)]
struct Half {
    to: usize,
    left: i64,
    cost: i64,
}

/// A network with capacities and costs per unit. Costs may be negative, but no cycle may be.
#[derive(Debug, Clone, Default)]
pub(crate) struct Network {
    /// Halves 2k and 2k + 1 are arc k forwards and back.
    halves: Vec<Half>,
    /// Halves that leave each node.
    leaving: Vec<Vec<usize>>,
}

/// An arc of a [`Network`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct ArcId(usize);

impl Network {
    /// A new node.
    pub fn node(&mut self) -> usize {
        self.leaving.push(Vec::new());
        self.leaving.len() - 1
    }

    /// So many new nodes.
    pub fn nodes(&mut self, count: usize) -> Vec<usize> {
        (0..count).map(|_| self.node()).collect()
    }

    /// An arc from one node to another that carries up to `capacity` units, 0 or more, at `cost` each.
    pub fn arc(&mut self, from: usize, to: usize, capacity: i64, cost: i64) -> ArcId {
        let at = self.halves.len();
        self.halves.push(Half {
            to,
            left: capacity.max(0),
            cost,
        });
        self.halves.push(Half {
            to: from,
            left: 0,
            cost: -cost,
        });
        self.leaving[from].push(at);
        self.leaving[to].push(at + 1);
        ArcId(at)
    }

    /// Units that an arc carries.
    pub fn carried(&self, arc: ArcId) -> i64 {
        self.halves[arc.0 + 1].left
    }

    /// Sends up to `most` more units from source to sink, as many as there is room for, at the least
    /// cost for so many. Returns how many, and their cost.
    pub fn send(&mut self, source: usize, sink: usize, most: i64) -> (i64, i64) {
        let (mut sent, mut cost) = (0, 0);
        while sent < most {
            let Some((path, each)) = self.cheapest(source, sink) else {
                break;
            };
            let room = path.iter().map(|&half| self.halves[half].left).min();
            let units = room.unwrap_or(0).min(most - sent);
            if units <= 0 {
                break;
            }
            for half in path {
                self.halves[half].left -= units;
                self.halves[half ^ 1].left += units;
            }
            sent += units;
            cost += units * each;
        }
        (sent, cost)
    }

    /// The halves along a cheapest path that still has room, from the sink back, and its cost.
    fn cheapest(&self, source: usize, sink: usize) -> Option<(Vec<usize>, i64)> {
        let (dist, came_by) = self.distances(source);
        if dist[sink] >= FAR {
            return None;
        }
        let mut path = Vec::new();
        let mut at = sink;
        while at != source && path.len() < self.halves.len() {
            let half = came_by[at]?;
            path.push(half);
            at = self.halves[half ^ 1].to;
        }
        (at == source).then_some((path, dist[sink]))
    }

    /// The least cost from the source to each node, and the half by which it is reached.
    fn distances(&self, source: usize) -> (Vec<i64>, Vec<Option<usize>>) {
        let mut dist = vec![FAR; self.leaving.len()];
        let mut came_by = vec![None; self.leaving.len()];
        dist[source] = 0;
        // Without a negative cycle, no path is longer than there are nodes.
        for _ in 0..self.leaving.len() {
            let mut shorter = false;
            for (from, halves) in self.leaving.iter().enumerate() {
                for &at in halves {
                    let half = self.halves[at];
                    let open = half.left > 0 && dist[from] < FAR;
                    if open && dist[from] + half.cost < dist[half.to] {
                        dist[half.to] = dist[from] + half.cost;
                        came_by[half.to] = Some(at);
                        shorter = true;
                    }
                }
            }
            if !shorter {
                break;
            }
        }
        (dist, came_by)
    }
}

/// Whether each group of `wanted` units can be served by supplies, each of which serves the groups it
/// names, none beyond what it holds.
pub(crate) fn serves_all(supplies: &[(i64, Vec<usize>)], wanted: &[i64]) -> bool {
    let mut network = Network::default();
    let (source, sink) = (network.node(), network.node());
    let groups = network.nodes(wanted.len());
    for (&group, &count) in groups.iter().zip(wanted) {
        network.arc(group, sink, count, 0);
    }
    for (count, serves) in supplies {
        let supply = network.node();
        network.arc(source, supply, *count, 0);
        for group in serves.iter().filter_map(|&at| groups.get(at)) {
            network.arc(supply, *group, *count, 0);
        }
    }
    let all = wanted.iter().map(|&count| count.max(0)).sum();
    network.send(source, sink, all).0 == all
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The least cost for each number of units from node 0 to node 1, over every way to fill the arcs.
    fn brute(nodes: usize, arcs: &[(usize, usize, i64, i64)]) -> Vec<Option<i64>> {
        let mut best = vec![None; 40];
        let mut flows = vec![0; arcs.len()];
        loop {
            let mut net = vec![0; nodes];
            let mut cost = 0;
            for (&(from, to, _, each), &flow) in arcs.iter().zip(&flows) {
                net[from] -= flow;
                net[to] += flow;
                cost += each * flow;
            }
            if net[1] >= 0 && net[2..].iter().all(|&n| n == 0) {
                let entry = &mut best[usize::try_from(net[1]).unwrap()];
                *entry = Some(entry.map_or(cost, |old: i64| old.min(cost)));
            }
            let Some(at) = (0..arcs.len()).find(|&at| flows[at] < arcs[at].2) else {
                return best;
            };
            flows[at] += 1;
            flows[..at].fill(0);
        }
    }

    proptest! {
        #[test]
        fn any_number_of_units_is_sent_at_the_least_cost(
            arcs in proptest::collection::vec((0..4_usize, 0..4_usize, 0..3_i64, 0..6_i64), 0..7),
            most in 0..5_i64,
        ) {
            let mut network = Network::default();
            network.nodes(4);
            let ids: Vec<_> = arcs.iter().map(|&(from, to, room, cost)| network.arc(from, to, room, cost)).collect();
            let (sent, cost) = network.send(0, 1, most);
            let best = brute(4, &arcs);
            let greatest = best.iter().rposition(Option::is_some).unwrap() as i64;
            prop_assert_eq!(sent, greatest.min(most));
            prop_assert_eq!(Some(cost), best[usize::try_from(sent).unwrap()]);
            let carried: i64 = ids.iter().zip(&arcs).map(|(&id, arc)| network.carried(id) * arc.3).sum();
            prop_assert_eq!(carried, cost);
        }
    }

    #[test]
    fn units_already_sent_are_led_another_way_where_that_is_cheaper() {
        let mut network = Network::default();
        network.nodes(4);
        let direct = network.arc(0, 2, 1, 0);
        network.arc(0, 3, 1, 3);
        network.arc(2, 1, 1, 5);
        network.arc(2, 3, 1, 0);
        network.arc(3, 1, 1, 0);
        assert_eq!(network.send(0, 1, 1), (1, 0));
        assert_eq!(network.send(0, 1, 9), (1, 8));
        assert_eq!(network.carried(direct), 1);
    }

    #[test]
    fn a_supply_for_two_groups_is_left_to_the_one_that_has_no_other() {
        let supplies = [(2, vec![0, 1]), (1, vec![0])];
        assert!(serves_all(&supplies, &[1, 2]));
        assert!(!serves_all(&supplies, &[2, 2]));
        assert!(serves_all(&[], &[0]));
        assert!(!serves_all(&[], &[1]));
    }
}
