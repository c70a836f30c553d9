//! `cardwright desk`: a page on this machine, with the program behind it.
//!
//! Few kinds of question go from the page to `crate::desk`, which knows no files; whatever changes the shelf is done by the
//! program's own commands. The server listens on the loopback address alone, and answers nobody who does not know the secret in its
//! link.

mod answers;
mod code;
mod commands;
mod folder;
mod gate;
mod http;
mod open;
mod page;
mod scratch;
mod take;

use super::arguments::DeskArguments;
use super::console::{Console, Exit};
use answers::{Admitted, Asker};
use folder::Folder;
use gate::Gate;
use http::Unread;
use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream, UdpSocket};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Most requests that are answered at once.
const MOST: usize = 32;

/// Serves the page until Ctrl-C.
pub fn run(typed: &DeskArguments, console: &mut Console) -> Exit {
    let home = typed.folder.as_path();
    if !home.is_dir() {
        let title = format!("there is no folder {}", home.display());
        return console.refused(&title, "`cardwright new FOLDER` makes one with a small workshop");
    }
    let folder = Arc::new(Folder::of(home));
    let loopback = SocketAddr::from((Ipv4Addr::LOCALHOST, typed.port));
    let desk = match Door::open(loopback, Asker::Desk, &folder) {
        Ok(door) => door,
        Err(error) => {
            let title = format!("cannot listen at {loopback}: {error}");
            return console.refused(&title, "leave out --port, and a free one is taken");
        }
    };
    let mut told = format!("Your desk: {}\n{KEEP}\n", desk.gate.link());
    if typed.phone {
        match phone(&folder) {
            Ok(door) => {
                let link = door.gate.link();
                told += &format!("\nYour phone, in the same network: {link}\n{PHONE}\n\n");
                told += &code::for_terminal(&link).unwrap_or_default();
                folder.show_phone(&link);
                thread::spawn(move || door.serve());
            }
            Err(error) => {
                let title = format!("no phone can reach this machine: {error}");
                return console.refused(&title, "join a network, or leave out --phone");
            }
        }
    }
    if console.result(told.as_bytes()) != Exit::Done || console.gone {
        return Exit::Use;
    }
    if !typed.no_open {
        open::in_browser(&desk.gate.link());
    }
    desk.serve();
    Exit::Done
}

const KEEP: &str = "Keep this link to yourself: whoever has it can change your files. Ctrl-C ends the desk; all is saved.";
const PHONE: &str = "Whoever has this link can tick steps and take stock. Scan it:";

/// A listener for phones, at the address by which the network knows this machine.
fn phone(folder: &Arc<Folder>) -> io::Result<Door> {
    // Nothing is sent: the system only says from where it would send to an address that is kept for documents (RFC 5737).
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
    Door::open(SocketAddr::new(socket.local_addr()?.ip(), 0), Asker::Phone, folder)
}

/// A listener, and who comes in by it.
struct Door {
    listener: TcpListener,
    gate: Gate,
    asker: Asker,
    folder: Arc<Folder>,
    /// Requests that are being answered.
    busy: AtomicUsize,
}

impl Door {
    fn open(address: SocketAddr, asker: Asker, folder: &Arc<Folder>) -> io::Result<Door> {
        let listener = TcpListener::bind(address)?;
        let gate = Gate::new(listener.local_addr()?).map_err(io::Error::other)?;
        Ok(Door { listener, gate, asker, folder: Arc::clone(folder), busy: AtomicUsize::new(0) })
    }

    fn serve(self) {
        let door = Arc::new(self);
        for stream in door.listener.incoming() {
            // One that broke before it was taken is nobody's.
            let Ok(mut stream) = stream else { continue };
            let door = Arc::clone(&door);
            if door.busy.fetch_add(1, Ordering::Relaxed) >= MOST {
                let _ = answers::refuse(&mut stream, 503);
                door.busy.fetch_sub(1, Ordering::Relaxed);
                continue;
            }
            thread::spawn(move || {
                // Who has hung up is told nothing; what breaks down takes no other request with it.
                let _ = catch_unwind(AssertUnwindSafe(|| door.one(&mut stream)));
                door.busy.fetch_sub(1, Ordering::Relaxed);
            });
        }
    }

    fn one(&self, stream: &mut TcpStream) -> io::Result<()> {
        // An answer in two parts would wait for a word from the other side between them.
        stream.set_nodelay(true)?;
        let request = match http::read(stream) {
            Ok(request) => request,
            Err(Unread::Refused(status)) => return answers::refuse(stream, status),
            Err(Unread::Broken) => return Ok(()),
        };
        match self.gate.admitted(&request) {
            Some(asked) => {
                let admitted = Admitted { asker: self.asker, asked, request: &request };
                answers::answer(&self.folder, admitted, stream)
            }
            None => answers::refuse(stream, 403),
        }
    }
}
