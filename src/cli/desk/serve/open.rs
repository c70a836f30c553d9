//! Opens the browser.

use std::process::{Command, Stdio};

/// The command that shows a link, on this system.
const OPENER: &[&str] = if cfg!(windows) {
    &["rundll32", "url.dll,FileProtocolHandler"]
} else if cfg!(target_os = "macos") {
    &["open"]
} else {
    &["xdg-open"]
};

/// Shows a link. Where the system knows no way, the link stands in the terminal.
pub fn in_browser(link: &str) {
    let mut command = Command::new(OPENER[0]);
    command.args(&OPENER[1..]).arg(link);
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    if let Ok(mut child) = quiet.spawn() {
        // It is waited for, so that nothing of it is left behind.
        std::thread::spawn(move || child.wait());
    }
}
