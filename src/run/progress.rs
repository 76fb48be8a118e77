//! A progress bar for long nesting, only on a terminal and only once it lasts.

use super::screen::Screen;
use crate::nest::{Progress, Watch};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const QUIET: Duration = Duration::from_secs(1);

/// The bar; stays hidden for short work and without a terminal.
pub(super) struct Bar {
    drawn: ProgressBar,
    begun: Instant,
    visible: bool,
    /// Set by the key that ends a long search.
    enough: Option<Arc<AtomicBool>>,
}

impl Bar {
    /// With a key to end the search: a line on standard input, which keeps the best layout so far.
    pub(super) fn with_key(screen: &Screen) -> Self {
        let enough = Arc::new(AtomicBool::new(false));
        let told = Arc::clone(&enough);
        if std::io::stdin().is_terminal() {
            screen.say("Press Enter to end the search with the best layout so far.");
        }
        // It may wait for a line for ever; the program ends without it.
        thread::spawn(move || {
            let mut line = String::new();
            if std::io::stdin().read_line(&mut line).is_ok_and(|bytes| bytes > 0) {
                told.store(true, Ordering::Relaxed);
            }
        });
        Self { enough: Some(enough), ..Self::new(screen) }
    }

    /// Whether the search was ended by the key.
    pub(super) fn was_ended(&self) -> bool {
        self.enough.as_ref().is_some_and(|enough| enough.load(Ordering::Relaxed))
    }

    pub(super) fn new(screen: &Screen) -> Self {
        let bar = ProgressBar::with_draw_target(Some(1000), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("nesting {bar:30} {percent:>3} %  {msg}") {
            bar.set_style(style);
        }
        Self { drawn: bar, begun: Instant::now(), visible: !screen.json && std::io::stderr().is_terminal(), enough: None }
    }

    pub(super) fn done(&self) {
        self.drawn.finish_and_clear();
    }
}

impl Watch for Bar {
    fn go_on(&self, progress: Progress) -> bool {
        if self.visible && self.begun.elapsed() > QUIET {
            if self.drawn.is_hidden() {
                self.drawn.set_draw_target(ProgressDrawTarget::stderr());
            }
            let boards = progress.boards.max(1) as f64;
            self.drawn.set_position(((progress.board as f64 + progress.done) / boards * 1000.0) as u64);
            self.drawn.set_message(format!(
                "board {} of {}, {} sheets",
                progress.board + 1,
                progress.boards,
                progress.sheets
            ));
        }
        !self.was_ended()
    }
}
