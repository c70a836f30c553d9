//! How many threads share the work.

use rayon::ThreadPoolBuilder;

/// Does something on so many threads, all that it does side by side included; `None` is one a core. What comes of
/// it never depends on their number.
pub fn on_threads<T: Send>(threads: Option<usize>, act: impl FnOnce() -> T + Send) -> T {
    let pool = threads.map(|threads| ThreadPoolBuilder::new().num_threads(threads).build());
    match pool {
        Some(Ok(pool)) => pool.install(act),
        // Some places have no threads to give.
        Some(Err(_)) | None => act(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rayon::prelude::*;

    #[test]
    fn no_more_threads_work_than_were_asked_for() {
        for threads in [1, 3] {
            let seen = on_threads(Some(threads), || {
                let number = |_| (rayon::current_num_threads(), rayon::current_thread_index());
                (0..1000).into_par_iter().map(number).collect::<Vec<_>>()
            });
            for (all, own) in seen {
                assert_eq!(all, threads);
                assert!(own.is_some_and(|own| own < threads));
            }
        }
    }
}
