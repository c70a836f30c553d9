//! The server of a desk. It listens on the loopback address alone, and answers nobody who does not know the secret in its link.

mod code;
mod gate;
mod http;
mod open;
mod page;
mod policy;
mod reply;

use super::answers::{Asker, PageRequest};
use super::folder::{Folder, PhoneLink};
use super::scratch::clear_unused;
use crate::cli::arguments::DeskArguments;
use crate::cli::console::{Console, Exit};
use gate::Gate;
use http::RequestHead;
use reply::{Admitted, DoorRefusal};
use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream, UdpSocket};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Most requests that are answered at once.
const MOST: usize = 32;
/// Most connections that have not said yet who they are: they are short, and keep out nobody who is known.
const MOST_UNKNOWN: usize = 256;

/// Serves the page until Ctrl-C.
pub fn run(typed: &DeskArguments, console: &mut Console) -> Exit {
    let home = typed.folder.as_path();
    if !home.is_dir() {
        let title = format!("there is no folder {}", home.display());
        return console.refused(&title, "`cardwright new FOLDER` makes one with a small workshop");
    }
    clear_unused();
    let folder = Arc::new(Folder::of(home));
    folder.clear_left();
    let loopback = SocketAddr::from((Ipv4Addr::LOCALHOST, typed.port));
    let desk = match Door::open(loopback, Asker::Desk, &folder) {
        Ok(door) => door,
        Err(error) => {
            let title = format!("cannot listen at {loopback}: {error}");
            return console.refused(&title, "leave out --port to take a free one");
        }
    };
    let mut told = format!("Your desk: {}\n{KEEP}\n", desk.gate.link());
    if typed.phone {
        match phone(&folder) {
            Ok(door) => {
                let link = door.gate.link();
                told += &format!("\nFor a phone on the same network: {link}\n{PHONE}\n\n");
                told += &code::for_terminal(&link).unwrap_or_default();
                folder.show_phone(PhoneLink { code: code::for_page(&link), link });
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

const KEEP: &str = "Keep this link to yourself: whoever has it can change your files. The page saves as you type. Ctrl-C ends the desk.";
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
    /// Connections that have not said yet who they are.
    unknown: AtomicUsize,
    /// Requests that are being answered.
    busy: AtomicUsize,
}

/// A place among those that are served at once; it is free again when this is dropped.
struct DoorSeat<'a>(&'a AtomicUsize);

impl DoorSeat<'_> {
    fn among(taken: &AtomicUsize, most: usize) -> Option<DoorSeat<'_>> {
        let seat = DoorSeat(taken);
        (taken.fetch_add(1, Ordering::Relaxed) < most).then_some(seat)
    }
}

impl Drop for DoorSeat<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Door {
    fn open(address: SocketAddr, asker: Asker, folder: &Arc<Folder>) -> io::Result<Door> {
        let listener = TcpListener::bind(address)?;
        let gate = Gate::new(listener.local_addr()?).map_err(io::Error::other)?;
        let [unknown, busy] = [AtomicUsize::new(0), AtomicUsize::new(0)];
        Ok(Door { listener, gate, asker, folder: Arc::clone(folder), unknown, busy })
    }

    fn serve(self) {
        let door = Arc::new(self);
        for stream in door.listener.incoming() {
            // One that broke before it was taken is nobody's.
            let Ok(mut stream) = stream else { continue };
            if door.unknown.load(Ordering::Relaxed) >= MOST_UNKNOWN {
                let _ = reply::refuse(&mut stream, DoorRefusal::CROWDED);
                continue;
            }
            let door = Arc::clone(&door);
            thread::spawn(move || {
                // Who has hung up is told nothing; what breaks down takes no other request with it.
                let _ = catch_unwind(AssertUnwindSafe(|| door.one(&mut stream)));
            });
        }
    }

    fn one(&self, stream: &mut TcpStream) -> io::Result<()> {
        // An answer in two parts would wait for a word from the other side between them.
        stream.set_nodelay(true)?;
        let read = DoorSeat::among(&self.unknown, MOST_UNKNOWN).map(|_seat| http::read(stream));
        let mut head = match read {
            Some(Ok(head)) => head,
            Some(Err(unread)) => return reply::unread(stream, unread),
            None => return reply::refuse(stream, DoorRefusal::CROWDED),
        };
        let Some(asked) = self.gate.admitted(&head).map(str::to_owned) else {
            return reply::refuse(stream, DoorRefusal::STRANGER);
        };
        let Some(_seat) = DoorSeat::among(&self.busy, MOST) else {
            return reply::refuse(stream, DoorRefusal::CROWDED);
        };
        let body = match head.body(stream) {
            Ok(body) => body,
            Err(unread) => return reply::unread(stream, unread),
        };
        let RequestHead { method, query, .. } = head;
        let request = PageRequest { method, path: asked, query, body };
        reply::reply(stream, &self.folder, Admitted { asker: self.asker, request: &request })
    }
}
