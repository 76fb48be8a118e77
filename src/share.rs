//! Work shared between the machine's threads.
//!
//! Takes: a list, and what to do with each of its items.
//! Gives: the results, in the order of the list.
//! Guarantees: threads change nothing but the time.
//! Never: knows what the work is.

use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Most threads: more would only each make the same parts ready.
const THREADS: usize = 8;

/// Does `work` on every item, results in the order of the items; each thread keeps a state of its own, made by `fresh`.
pub fn in_order<T: Sync, R: Send, S>(
    items: &[T],
    fresh: impl Fn() -> S + Sync,
    work: impl Fn(&mut S, &T) -> R + Sync,
) -> Vec<R> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(THREADS).min(items.len());
    if threads < 2 {
        let mut state = fresh();
        return items.iter().map(|item| work(&mut state, item)).collect();
    }
    let next = AtomicUsize::new(0);
    let one = || {
        let (mut state, mut done) = (fresh(), Vec::new());
        loop {
            let k = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(k) else { return done };
            done.push((k, work(&mut state, item)));
        }
    };
    let mut all: Vec<(usize, R)> = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(one)).collect();
        let mut all = one();
        for other in others {
            // A fault of the work stays one, whichever thread it was on.
            all.extend(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        all
    });
    all.sort_by_key(|(k, _)| *k);
    all.into_iter().map(|(_, result)| result).collect()
}
