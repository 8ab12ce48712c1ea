//! A build in a process of its own, which can be killed.
//!
//! The test program starts itself again with one test: it does nothing unless it was started so.

use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};

use compasario::disk::{self, When};

use crate::support::{large_site, new_site, no_exchange, old_site};

/// What the child is to do.
#[derive(Debug, Clone, Copy)]
pub struct Orders<'a> {
    pub out: &'a Path,
    /// `old`, `new`, or the name of a large site.
    pub site: &'a str,
    /// The call to die at: twice its number before it, once more after it.
    pub die_at: Option<usize>,
    pub exchange: bool,
}

impl Orders<'_> {
    pub fn start(&self) -> Child {
        let die_at = self.die_at.map_or(String::new(), |at| at.to_string());
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.args([
            "child::publishes_when_told",
            "--exact",
            "--nocapture",
            "--test-threads=1",
        ]);
        command
            .env("CHILD_OUT", self.out)
            .env("CHILD_SITE", self.site)
            .env("CHILD_DIES_AT", die_at);
        command.env("CHILD_EXCHANGE", if self.exchange { "yes" } else { "no" });
        command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
    }

    pub fn run(&self) -> ExitStatus {
        self.start().wait().unwrap()
    }
}

#[test]
fn publishes_when_told() {
    let Some(out) = std::env::var_os("CHILD_OUT").map(PathBuf::from) else {
        return;
    };
    let name = std::env::var("CHILD_SITE").unwrap();
    let die_at: Option<usize> = std::env::var("CHILD_DIES_AT").unwrap().parse().ok();
    let exchange = std::env::var("CHILD_EXCHANGE").unwrap() == "yes";
    let site = match name.as_str() {
        "old" => old_site(),
        "new" => new_site(),
        other => large_site(other, 300),
    };
    let moment = Cell::new(0);
    let told = |call: &disk::Call<'_>| {
        if die_at == Some(moment.get()) {
            // No destructor runs and nothing is unwound: as after a kill.
            std::process::abort();
        }
        moment.set(moment.get() + 1);
        if exchange || call.when == When::After {
            Ok(())
        } else {
            no_exchange(call)
        }
    };
    disk::publish_told(&out, site, &told).unwrap();
}
