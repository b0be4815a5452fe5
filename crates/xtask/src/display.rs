//! A display that nobody sees.

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use crate::failure::{Result, While, fail};
use crate::{places, process};

/// Width, height and depth of its one screen, as the server takes them.
const SCREEN: &str = "1440x900x24";

/// On a busy machine the server may take some seconds to come up.
const START_LIMIT: Duration = Duration::from_secs(30);

/// A running X server without a screen. Ends with this value.
#[derive(Debug)]
pub struct VirtualDisplay {
    server: Child,
    number: u32,
}

impl VirtualDisplay {
    /// Starts a server on a display number that is free, and waits until it takes callers. Xvfb must be there.
    pub fn start() -> Result<Self> {
        if process::on_path("Xvfb").is_none() {
            return fail("there is no Xvfb to draw on");
        }
        let log = places::out()?.join("xvfb.log");
        let file = File::create(&log).while_doing(format!("write {}", log.display()))?;
        let mut server = Command::new("Xvfb")
            // It picks the number itself and writes it to its stdout once it is ready: no guessing, no race.
            .args(["-displayfd", "1", "-screen", "0", SCREEN])
            // It stays as it is when the last window closes, since the next test opens another.
            .args(["-nolisten", "tcp", "-noreset"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(file)
            .spawn()
            .while_doing("start Xvfb")?;
        let number = number_from(&mut server);
        // Made before the number is looked at, so that a server which never got ready is ended too.
        let mut display = Self { server, number: 0 };
        let Some(number) = number else {
            return fail(format!("Xvfb gave no display; its words are in {}", log.display()));
        };
        display.number = number;
        Ok(display)
    }

    /// Sends a program's windows here, whatever display the user has.
    pub fn show<'a>(&self, command: &'a mut Command) -> &'a mut Command {
        command.env("DISPLAY", format!(":{}", self.number)).env_remove("WAYLAND_DISPLAY").env_remove("WAYLAND_SOCKET")
    }
}

impl Drop for VirtualDisplay {
    fn drop(&mut self) {
        // Asked politely it takes its lock and its socket away with it.
        let pid = self.server.id().to_string();
        let asked = process::succeeds(Command::new("sh").args(["-c", "kill \"$0\"", &pid]));
        let limit = if asked { Duration::from_secs(5) } else { Duration::ZERO };
        if let Err(failure) = process::wait_at_most(&mut self.server, limit) {
            eprintln!("warning: Xvfb may still run: {failure}");
        }
    }
}

fn number_from(server: &mut Child) -> Option<u32> {
    let stdout = server.stdout.take()?;
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        let mut line = String::new();
        let read = BufReader::new(stdout).read_line(&mut line);
        // The receiver is gone where the wait was over before; then nobody asks any more.
        let _ = sender.send(read.map(|_| line));
    });
    receiver.recv_timeout(START_LIMIT).ok()?.ok()?.trim().parse().ok()
}
