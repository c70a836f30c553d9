//! A disk in memory that fails or loses its power at any step.
//!
//! It keeps apart what is safe and what is not yet: when the power goes, of everything that was not made
//! safe some part is lost, as bits of a seed say.

use super::super::super::disk::{Disk, Share};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// What happens at the chosen step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mishap {
    /// The power goes; nothing works any more.
    PowerLoss,
    /// This step fails; the next ones work again.
    Refusal,
}

/// A disk that can be shared.
#[derive(Clone, Debug, Default)]
pub struct Memory(Rc<RefCell<State>>);

#[derive(Clone, Debug, Default)]
struct State {
    contents: Vec<Content>,
    names: BTreeMap<PathBuf, usize>,
    safe_names: BTreeMap<PathBuf, usize>,
    steps: usize,
    mishap: Option<(usize, Mishap)>,
    dead: bool,
}

#[derive(Clone, Debug, Default)]
struct Content {
    bytes: Vec<u8>,
    safe: Vec<u8>,
}

impl Memory {
    /// A disk with these files, all safe.
    pub fn with(files: &[(&str, &str)]) -> Memory {
        let disk = Memory::default();
        for (name, text) in files {
            disk.create(Path::new(name), text.as_bytes(), None).unwrap();
        }
        disk.sync_folder(Path::new("")).unwrap();
        disk.0.borrow_mut().steps = 0;
        disk
    }

    /// The same with a mishap at a step, counted from 1.
    pub fn failing(&self, step: usize, mishap: Mishap) -> Memory {
        let state = State { steps: 0, mishap: Some((step, mishap)), ..self.0.borrow().clone() };
        Memory(Rc::new(RefCell::new(state)))
    }

    /// Steps done.
    pub fn steps(&self) -> usize {
        self.0.borrow().steps
    }

    /// What is there when the power is back: of what was not safe, the parts that the seed keeps.
    pub fn after_power_loss(&self, seed: u64) -> Memory {
        let state = self.0.borrow();
        let mut bits =
            (0..).map(|at| seed.wrapping_mul(0x9e37_79b9_7f4a_7c15).rotate_left(at * 7) & 1 == 1);
        let mut bit = || bits.next().unwrap();
        let contents = state.contents.iter().map(|content| {
            let kept = if bit() { &content.bytes } else { &content.safe };
            Content { bytes: kept.clone(), safe: kept.clone() }
        });
        let contents = contents.collect();
        let all: BTreeSet<&PathBuf> = state.names.keys().chain(state.safe_names.keys()).collect();
        let names: BTreeMap<PathBuf, usize> = all
            .into_iter()
            .filter_map(|name| {
                let kept = if bit() { state.names.get(name) } else { state.safe_names.get(name) };
                Some((name.clone(), *kept?))
            })
            .collect();
        let state = State { contents, safe_names: names.clone(), names, ..State::default() };
        Memory(Rc::new(RefCell::new(state)))
    }

    /// Names of all files.
    pub fn listing(&self) -> Vec<String> {
        self.0.borrow().names.keys().map(|name| name.display().to_string()).collect()
    }

    /// One step, at which something may happen.
    fn step(&self) -> io::Result<()> {
        let mut state = self.0.borrow_mut();
        if state.dead {
            return Err(ErrorKind::NotConnected.into());
        }
        state.steps += 1;
        match state.mishap {
            Some((step, Mishap::PowerLoss)) if step == state.steps => {
                state.dead = true;
                Err(ErrorKind::NotConnected.into())
            }
            Some((step, Mishap::Refusal)) if step == state.steps => {
                Err(ErrorKind::StorageFull.into())
            }
            _ => Ok(()),
        }
    }

    fn at(&self, path: &Path) -> io::Result<usize> {
        self.0.borrow().names.get(path).copied().ok_or(ErrorKind::NotFound.into())
    }

    /// Half of the bytes, then all of them, then all of them safe.
    fn write(&self, at: usize, bytes: &[u8]) -> io::Result<()> {
        for half in [&bytes[..bytes.len() / 2], &bytes[bytes.len() / 2..]] {
            self.step()?;
            self.0.borrow_mut().contents[at].bytes.extend(half);
        }
        self.sync(at)
    }

    fn sync(&self, at: usize) -> io::Result<()> {
        self.step()?;
        let content = &mut self.0.borrow_mut().contents[at];
        content.safe = content.bytes.clone();
        Ok(())
    }

    fn make(&self, path: &Path) -> io::Result<usize> {
        self.step()?;
        let mut state = self.0.borrow_mut();
        state.contents.push(Content::default());
        let at = state.contents.len() - 1;
        state.names.insert(path.to_owned(), at);
        Ok(at)
    }
}

impl Disk for Memory {
    type Lock = ();

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        Ok(path.to_owned())
    }

    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        let state = self.0.borrow();
        if state.dead {
            return Err(ErrorKind::NotConnected.into());
        }
        Ok(state.names.get(path).map(|at| state.contents[*at].bytes.clone()))
    }

    fn lock(&self, _: &Path, _: Share) -> io::Result<()> {
        Ok(())
    }

    fn create(&self, path: &Path, bytes: &[u8], _: Option<&Path>) -> io::Result<()> {
        match self.at(path) {
            Ok(_) => Err(ErrorKind::AlreadyExists.into()),
            Err(_) => self.write(self.make(path)?, bytes),
        }
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let at = self.at(path).or_else(|_| self.make(path))?;
        self.write(at, bytes)
    }

    fn shorten(&self, path: &Path, length: u64) -> io::Result<()> {
        let at = self.at(path)?;
        self.step()?;
        self.0.borrow_mut().contents[at].bytes.truncate(length as usize);
        self.sync(at)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let at = self.at(from)?;
        self.step()?;
        let mut state = self.0.borrow_mut();
        state.names.remove(from);
        state.names.insert(to.to_owned(), at);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        if self.at(path).is_ok() {
            self.step()?;
            self.0.borrow_mut().names.remove(path);
        }
        Ok(())
    }

    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        self.step()?;
        let mut state = self.0.borrow_mut();
        state.safe_names = state.names.clone();
        Ok(())
    }
}
