//! Where the page is found, and how it is opened there.

use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};

/// Bytes of the token (128 bits: not to be guessed).
const TOKEN: usize = 16;

/// Where the page is found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    /// Address and port.
    pub socket: SocketAddr,
    token: String,
}

impl Address {
    /// An address with a token of its own.
    ///
    /// # Errors
    /// Where the system gives no random bytes.
    pub(crate) fn new(socket: SocketAddr) -> Result<Self, String> {
        let mut bytes = [0_u8; TOKEN];
        getrandom::fill(&mut bytes).map_err(|error| error.to_string())?;
        let token = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Self { socket, token })
    }

    /// What a browser is given.
    #[must_use]
    pub fn link(&self) -> String {
        format!("http://{}/{}/", self.socket, self.token)
    }

    /// Whether a text is the token, in a time that does not tell how much of it is right.
    pub(crate) fn is_token(&self, text: &str) -> bool {
        let pairs = self.token.bytes().zip(text.bytes());
        let wrong = pairs.fold(0_u8, |wrong, (a, b)| wrong | (a ^ b));
        wrong == 0 && text.len() == self.token.len()
    }

    /// Names that a browser on this machine, or on a telephone, has for it.
    pub(crate) fn is_host(&self, text: &str) -> bool {
        let loopback = self.socket.ip().is_loopback();
        text == self.socket.to_string()
            || loopback && text == format!("localhost:{}", self.socket.port())
    }
}

/// This machine alone, or its address in the network where a telephone is to come in.
pub(crate) fn host(phone: bool) -> Result<IpAddr, String> {
    if !phone {
        return Ok(IpAddr::V4(Ipv4Addr::LOCALHOST));
    }
    // Nothing is sent: the system only says by which of its addresses it would be.
    let way_out = || -> std::io::Result<IpAddr> {
        let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
        socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
        Ok(socket.local_addr()?.ip())
    };
    way_out().map_err(|error| format!("this machine is in no network: {error}"))
}

/// Opens the page in the browser of the system.
///
/// # Errors
/// Where there is none.
pub fn open(address: &Address) -> Result<(), String> {
    open::that_detached(address.link()).map_err(|error| error.to_string())
}

/// The address as a code to scan, in lines of a terminal.
///
/// # Errors
/// If the address is too long for one; a bug if it ever happens.
pub fn code(address: &Address) -> Result<String, String> {
    let code = qrcode::QrCode::new(address.link()).map_err(|error| error.to_string())?;
    Ok(code
        .render::<qrcode::render::unicode::Dense1x2>()
        .quiet_zone(true)
        .build())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_token_is_all_of_it_and_no_other() {
        let socket = SocketAddr::from(([127, 0, 0, 1], 4000));
        let address = Address::new(socket).unwrap();
        let token = address.token.clone();
        assert_eq!(token.len(), 2 * TOKEN);
        assert_ne!(token, Address::new(socket).unwrap().token);
        assert!(address.is_token(&token));
        for wrong in ["", &token[1..], &format!("{token}0"), &"0".repeat(32)] {
            assert!(!address.is_token(wrong), "{wrong}");
        }
    }

    #[test]
    fn a_code_says_the_address() {
        let address = Address::new(SocketAddr::from(([192, 168, 1, 7], 4000))).unwrap();
        assert!(code(&address).unwrap().lines().count() > 10);
    }
}
