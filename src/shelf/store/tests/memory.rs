//! A disk in memory that fails or loses its power at any step.
//!
//! It keeps apart what is safe and what is not yet: when the power goes, of everything that was not made
//! safe some part is lost, as bits of a seed say.

use super::super::super::disk::{Disk, Sharing};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, ErrorKind};
use std::path::{Component, Path, PathBuf};
use std::rc::Rc;

/// What happens at the chosen step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mishap {
    /// The power goes; nothing works any more.
    PowerLoss,
    /// This step fails; the next ones work again.
    Refusal,
}

/// What another program saves, and when.
#[derive(Clone, Debug)]
pub struct Save {
    /// Before which call of the disk, counted from 1.
    pub moment: usize,
    pub file: &'static str,
    pub text: &'static str,
    /// Whether it writes into the file, or puts another one in its place.
    pub into: bool,
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
    moments: usize,
    save: Option<Save>,
    saved: bool,
    /// Names that have changed together since they were safe: after a loss of power both have, or neither.
    together: Vec<(PathBuf, PathBuf)>,
    /// Whether names cannot be exchanged.
    plain: bool,
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

    /// The same, on which another program saves a file.
    pub fn saving(&self, save: Save) -> Memory {
        let state = State { moments: 0, save: Some(save), ..self.0.borrow().clone() };
        Memory(Rc::new(RefCell::new(state)))
    }

    /// The same, of a system that cannot exchange names.
    pub fn plain(&self) -> Memory {
        let state = State { plain: true, ..self.0.borrow().clone() };
        Memory(Rc::new(RefCell::new(state)))
    }

    /// Whether the other program came to save.
    pub fn is_saved(&self) -> bool {
        self.0.borrow().saved
    }

    /// Calls of the disk.
    pub fn moments(&self) -> usize {
        self.0.borrow().moments
    }

    /// A moment between two calls, at which another program may save.
    fn moment(&self) {
        let state = &mut *self.0.borrow_mut();
        state.moments += 1;
        let Some(save) = state.save.clone().filter(|save| save.moment == state.moments) else {
            return;
        };
        if state.dead {
            return;
        }
        state.saved = true;
        let path = PathBuf::from(save.file);
        let bytes = save.text.as_bytes().to_vec();
        let content = Content { bytes: bytes.clone(), safe: bytes };
        match state.names.get(&path).filter(|_| save.into) {
            Some(at) => state.contents[*at] = content,
            None => {
                state.contents.push(content);
                let at = state.contents.len() - 1;
                state.names.insert(path, at);
            }
        }
        // What it makes safe has a safe name.
        state.safe_names = state.names.clone();
        state.together.clear();
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
        let mut are_new: BTreeMap<&PathBuf, bool> =
            all.into_iter().map(|name| (name, bit())).collect();
        for (one, other) in &state.together {
            let is_new = are_new.get(one).copied().unwrap_or_default();
            are_new.insert(other, is_new);
        }
        let names: BTreeMap<PathBuf, usize> = are_new
            .into_iter()
            .filter_map(|(name, is_new)| {
                let kept = if is_new { state.names.get(name) } else { state.safe_names.get(name) };
                Some((name.clone(), *kept?))
            })
            .collect();
        let safe_names = names.clone();
        let state = State { contents, safe_names, names, plain: state.plain, ..State::default() };
        Memory(Rc::new(RefCell::new(state)))
    }

    /// Names of all files.
    pub fn listing(&self) -> Vec<String> {
        self.0.borrow().names.keys().map(|name| name.display().to_string()).collect()
    }

    /// One step, at which something may happen.
    fn step(&self) -> io::Result<()> {
        self.moment();
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
        self.halves(at, bytes)?;
        self.sync(at)
    }

    fn halves(&self, at: usize, bytes: &[u8]) -> io::Result<()> {
        for half in [&bytes[..bytes.len() / 2], &bytes[bytes.len() / 2..]] {
            self.step()?;
            self.0.borrow_mut().contents[at].bytes.extend(half);
        }
        Ok(())
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
    type Lock = PathBuf;

    /// There are no links.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        let mut resolved = PathBuf::new();
        for part in path.components() {
            match part {
                Component::ParentDir => {
                    resolved.pop();
                }
                part => resolved.push(part),
            }
        }
        Ok(resolved)
    }

    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.moment();
        let state = self.0.borrow();
        if state.dead {
            return Err(ErrorKind::NotConnected.into());
        }
        Ok(state.names.get(path).map(|at| state.contents[*at].bytes.clone()))
    }

    fn lock(&self, path: &Path, _: Sharing) -> io::Result<Option<PathBuf>> {
        self.moment();
        Ok(Some(path.to_owned()))
    }

    fn note(&self, lock: &PathBuf) -> io::Result<Vec<u8>> {
        Ok(self.read(lock)?.unwrap_or_default())
    }

    fn set_note(&self, lock: &PathBuf, note: &[u8]) -> io::Result<()> {
        let at = self.at(lock).or_else(|_| self.make(lock))?;
        self.step()?;
        self.0.borrow_mut().contents[at].bytes.clear();
        self.halves(at, note)
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
        self.step()?;
        let at = self.at(from)?;
        let mut state = self.0.borrow_mut();
        state.names.remove(from);
        if state.names.insert(to.to_owned(), at).is_none() {
            state.together.push((from.to_owned(), to.to_owned()));
        }
        Ok(())
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.step()?;
        let at = self.at(from)?;
        let mut state = self.0.borrow_mut();
        if state.names.contains_key(to) {
            return Err(ErrorKind::AlreadyExists.into());
        }
        state.names.remove(from);
        state.names.insert(to.to_owned(), at);
        state.together.push((from.to_owned(), to.to_owned()));
        Ok(())
    }

    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()> {
        self.step()?;
        if self.0.borrow().plain {
            return Err(ErrorKind::Unsupported.into());
        }
        let (first, second) = (self.at(one)?, self.at(other)?);
        let mut state = self.0.borrow_mut();
        state.names.insert(one.to_owned(), second);
        state.names.insert(other.to_owned(), first);
        state.together.push((one.to_owned(), other.to_owned()));
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
        state.together.clear();
        Ok(())
    }
}
