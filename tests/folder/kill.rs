//! The program killed in the middle, again and again, by `SIGKILL`, `SIGTERM` and `SIGHUP`: at moments all over the
//! time that it takes, and, where `strace` is installed, just before each of the calls by which it changes anything.
//!
//! A little of it runs with all tests: a few moments, and the calls that change names.
//! `cargo test -- --ignored --nocapture killed` runs all of it, before every call that opens, writes, links, removes or
//! locks anything, with and without a folder of before, with and without `--reserve`, and tells what it met.
//! `reports/benchmarks/attacks.md` holds what was met last.
#![cfg(unix)]

use super::*;
use crate::program::{put, signal};
use std::process::{Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

const FEW_MOMENTS: u32 = 16;
const MANY_MOMENTS: u32 = 1000;
/// Calls that change names. `strace` counts each call for itself: a set holds only those of which one is used.
const NAMES: &str = "renameat2";
/// Calls that change anything else, or look at it before.
const OTHERS: [&str; 13] = [
    "rename,renameat",
    "link,linkat",
    "mkdir,mkdirat",
    "rmdir",
    "unlink",
    "unlinkat",
    "openat",
    "flock",
    "write",
    "ftruncate",
    "fchmod",
    "fsync",
    "getdents64",
];

/// What is planned, and what is there before.
#[derive(Clone, Copy, Debug)]
struct Scene {
    /// Whether there is a report folder already, with files of the person in it.
    has_old: bool,
    /// Whether paper is set aside.
    reserve: bool,
}

const SCENES: [Scene; 4] = [
    Scene { has_old: true, reserve: true },
    Scene { has_old: true, reserve: false },
    Scene { has_old: false, reserve: true },
    Scene { has_old: false, reserve: false },
];

/// How rounds ended, before the next command.
#[derive(Debug, Default)]
struct Ends {
    kills: u32,
    old: u32,
    new: u32,
    told: u32,
    /// New reports whose paper was not set aside any more.
    unreserved: u32,
}

/// Everything that a scene can lead to.
struct Stage {
    scene: Scene,
    arguments: &'static str,
    before: Tree,
    old: Tree,
    new: Tree,
    /// Sheets set aside before and after.
    aside: [u64; 2],
}

impl Stage {
    fn of(scene: Scene) -> Stage {
        let arguments = match scene.reserve {
            true => "plan spring.csv --quiet --reserve",
            false => "plan spring.csv --quiet",
        };
        let home = if scene.has_old { planned(arguments) } else { workshop() };
        home.put("spring.csv", MANY);
        let reports = || without_origin(tree(&home.path("reports/spring")));
        let (before, old, aside) = (tree(&home.path("")), reports(), set_aside(&home));
        home.done(arguments);
        let stage = Stage {
            scene,
            arguments,
            before,
            old,
            new: reports(),
            aside: [aside, set_aside(&home)],
        };
        assert_ne!(stage.old, stage.new);
        assert_eq!(stage.aside[1], if scene.reserve { 3 } else { 0 });
        stage
    }

    /// A home as it is before.
    fn home(&self) -> Home {
        let home = Home::new();
        for (name, bytes) in &self.before {
            match bytes {
                Some(bytes) => put(&home.path(name), bytes),
                None => fs::create_dir_all(home.path(name)).unwrap(),
            }
        }
        home
    }

    /// Whether everything is whole now, and again after one more plan.
    fn judge(&self, home: &Home, ends: &mut Ends, round: &str) {
        let now = without_origin(tree(&home.path("reports/spring")));
        let is_new = now == self.new;
        assert!(is_new || now == self.old, "{round}: {:?}", now.keys());
        assert!(home.path("reports/spring/origin.json").exists() || now.is_empty(), "{round}");
        let aside = set_aside(home);
        assert!(self.aside.contains(&aside), "{round}: {aside}");
        if self.scene.reserve {
            // No paper is set aside for reports that are not there.
            assert!(is_new || aside == self.aside[0], "{round}: {aside}");
            ends.unreserved += u32::from(is_new && aside != self.aside[1]);
        }
        ends.kills += 1;
        *(if is_new { &mut ends.new } else { &mut ends.old }) += 1;
        let answer = home.done(self.arguments);
        ends.told += u32::from(answer.err.contains("folder-restored"));
        assert_eq!(without_origin(tree(&home.path("reports/spring"))), self.new, "{round}");
        assert_eq!(set_aside(home), self.aside[1], "{round}");
        assert_eq!(listing(&home.path("reports")), ["spring"], "{round}");
        let kept = |name: &String| !name.contains("shelf");
        let names: Vec<String> = listing(&home.path("")).into_iter().filter(kept).collect();
        assert_eq!(names, ["reports", "sheets.csv", "spring.csv", "workshop.toml"], "{round}");
        let last = home.done(self.arguments);
        assert_eq!(last.err, "", "{round}");
    }
}

#[test]
fn a_plan_that_is_killed_leaves_the_old_or_the_new() {
    moments(FEW_MOMENTS);
}

#[test]
#[ignore = "takes many minutes: the same as above at a thousand moments of each kind of plan"]
fn a_plan_that_is_killed_often_leaves_the_old_or_the_new() {
    moments(MANY_MOMENTS);
}

/// Ends plans at so many moments of each scene, by each signal in turn.
fn moments(rounds: u32) {
    for scene in SCENES {
        let stage = Stage::of(scene);
        let (mut ends, longest) = (Ends::default(), longest(&stage));
        let (from, length) = (longest / 3, longest);
        for round in 0..rounds / SCENES.len() as u32 + 1 {
            let home = stage.home();
            let mut command = home.command(stage.arguments);
            let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
            // Reports are written in the last part of the time that it takes.
            sleep(from + length * (round * 37 % 101) / 100);
            let name = ["KILL", "TERM", "HUP"][round as usize % 3];
            if child.try_wait().unwrap().is_none() {
                signal(&child, name);
            }
            child.wait().unwrap();
            stage.judge(&home, &mut ends, &format!("{scene:?}, round {round}, {name}"));
        }
        println!("{scene:?}: {ends:?}");
    }
}

/// How long a plan takes.
fn longest(stage: &Stage) -> Duration {
    let homes = [(); 3].map(|()| stage.home());
    let start = Instant::now();
    homes.each_ref().iter().for_each(|home| drop(home.done(stage.arguments)));
    start.elapsed() / 3
}

#[test]
fn a_plan_that_is_killed_at_a_change_of_names_leaves_the_old_or_the_new() {
    calls(&SCENES[..1], &[NAMES]);
}

#[test]
#[ignore = "takes many minutes: the same as above at every call of every kind of plan"]
fn a_plan_that_is_killed_at_any_call_leaves_the_old_or_the_new() {
    calls(&SCENES, &[&[NAMES], OTHERS.as_slice()].concat());
}

/// Kills plans just before the first, the second and every other of these calls.
fn calls(scenes: &[Scene], sets: &[&str]) {
    let can = |set: &&&str| {
        let can = traced(Command::new("true"), set, u32::MAX).is_some_and(|it| it.success());
        if !can {
            println!(
                "{set}: skipped, there is no strace, it may not be used, or there is no such call"
            );
        }
        can
    };
    let sets: Vec<&&str> = sets.iter().filter(can).collect();
    for scene in scenes {
        let stage = Stage::of(*scene);
        for set in &sets {
            let mut ends = Ends::default();
            for call in 1.. {
                let home = stage.home();
                let ended = traced(home.command(stage.arguments), set, call).unwrap();
                if ended.success() {
                    break;
                }
                stage.judge(&home, &mut ends, &format!("{scene:?}, call {call} of {set}"));
            }
            println!("{scene:?}, {set}: {ends:?}");
            assert!(ends.kills > 0 || **set != NAMES, "no such call was met");
        }
    }
}

/// Runs a program that is killed just before the call of this number; `None` where that cannot be.
fn traced(program: Command, set: &str, call: u32) -> Option<ExitStatus> {
    // Not every machine has all of them.
    let set = set.split(',').map(|name| format!("?{name}")).collect::<Vec<_>>().join(",");
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-o", "/dev/null", "-e", &format!("trace={set}")]);
    strace.args(["-e", &format!("inject={set}:signal=KILL:when={}", call.min(65535))]);
    strace.arg(program.get_program()).args(program.get_args());
    if let Some(folder) = program.get_current_dir() {
        strace.current_dir(folder);
    }
    strace.stdout(Stdio::null()).stderr(Stdio::null()).status().ok()
}
