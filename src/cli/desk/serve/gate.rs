//! Who may ask: whoever knows the secret in the link, by the name that the link has, from a page that was served here.
//!
//! Another page in the same browser does not know the secret, and may not send its requests here; a name that is made to lead to
//! this machine is not the one in the link.

use super::http::RequestHead;
use std::net::SocketAddr;

/// Bytes of a secret: 128 bits are beyond any guess.
const SECRET: usize = 16;

/// The gate of a listener.
#[derive(Clone, Debug)]
pub struct Gate {
    secret: String,
    /// Host and port as they stand in the link, and what else leads to the same.
    hosts: Vec<String>,
}

impl Gate {
    /// A gate with a new secret for a listener at this address.
    ///
    /// # Errors
    /// The system has no random numbers.
    pub fn new(address: SocketAddr) -> Result<Gate, getrandom::Error> {
        let mut bytes = [0_u8; SECRET];
        getrandom::fill(&mut bytes)?;
        let secret = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        let hosts = match address.ip().is_loopback() {
            true => vec![address.to_string(), format!("localhost:{}", address.port())],
            false => vec![address.to_string()],
        };
        Ok(Gate { secret, hosts })
    }

    /// The link that leads in.
    pub fn link(&self) -> String {
        format!("http://{}/{}/", self.hosts[0], self.secret)
    }

    /// What is asked for behind the secret; `None` where the request may not come in.
    pub fn admitted<'a>(&self, request: &'a RequestHead) -> Option<&'a str> {
        let (secret, rest) = request.path.strip_prefix('/')?.split_once('/')?;
        let host = request.field("host")?;
        let knows = is_same(secret.as_bytes(), self.secret.as_bytes());
        let by_name = self.hosts.iter().any(|known| known == host);
        (knows && by_name && self.is_from_here(request, host)).then_some(rest)
    }

    /// Whether a page that was served here sends it: a browser names the page's origin with all that changes something.
    fn is_from_here(&self, request: &RequestHead, host: &str) -> bool {
        let origin = format!("http://{host}");
        let is_own = match request.has_field("origin") {
            true => request.field("origin") == Some(origin.as_str()),
            false => request.method == "GET",
        };
        // Older browsers do not say it.
        let site = request.field("sec-fetch-site").unwrap_or("none");
        is_own
            && (site == "same-origin"
                || (site == "none" && request.method == "GET")
                || !request.has_field("sec-fetch-site"))
    }
}

/// Whether texts are the same, in a time that does not tell how far they are.
fn is_same(one: &[u8], other: &[u8]) -> bool {
    let differing = one.iter().zip(other).fold(0, |all, (one, other)| all | (one ^ other));
    one.len() == other.len() && differing == 0
}
