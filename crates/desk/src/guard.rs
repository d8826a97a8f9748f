//! Who is let in: decided by the head of a request alone.

use crate::address::Address;
use hyper::header::{CONTENT_TYPE, HOST, HeaderMap, HeaderName, ORIGIN};
use hyper::{Method, StatusCode, Uri};

/// Why a request is refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// It names another host.
    Host,
    /// It comes from another page.
    Origin,
    /// The token is missing or wrong, or there is nothing of that name.
    Unknown,
    /// It neither fetches nor asks.
    Method,
    /// What it sends is not JSON.
    Type,
    /// It sends too much.
    Size,
    /// It takes too long to send.
    Slow,
    /// There is too much to do.
    Busy,
}

impl Refusal {
    /// The status of HTTP for it.
    pub(crate) fn status(self) -> StatusCode {
        match self {
            Self::Host => StatusCode::MISDIRECTED_REQUEST,
            Self::Origin => StatusCode::FORBIDDEN,
            Self::Unknown => StatusCode::NOT_FOUND,
            Self::Method => StatusCode::METHOD_NOT_ALLOWED,
            Self::Type => StatusCode::UNSUPPORTED_MEDIA_TYPE,
            Self::Size => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Slow => StatusCode::REQUEST_TIMEOUT,
            Self::Busy => StatusCode::SERVICE_UNAVAILABLE,
        }
    }
}

/// What a request wants.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// The page.
    Page,
    /// An answer to a question of this name.
    Answer(String),
}

/// Lets a request in, or says why not.
pub(crate) fn admit(
    address: &Address,
    method: &Method,
    uri: &Uri,
    headers: &HeaderMap,
) -> Result<Wanted, Refusal> {
    let hosts: Vec<_> = headers.get_all(HOST).iter().collect();
    let [host] = hosts.as_slice() else {
        return Err(Refusal::Host);
    };
    let host = host.to_str().unwrap_or_default();
    if !address.is_host(host) || uri.authority().is_some() {
        return Err(Refusal::Host);
    }
    let path = uri.path().strip_prefix('/').unwrap_or_default();
    let (token, name) = path.split_once('/').unwrap_or((path, "?"));
    if !address.is_token(token) {
        return Err(Refusal::Unknown);
    }
    let asks = *method == Method::POST;
    if !asks && *method != Method::GET {
        return Err(Refusal::Method);
    }
    from_here(host, headers, asks)?;
    match (asks, name) {
        (false, "") if uri.query().is_none() => Ok(Wanted::Page),
        (true, name) if !name.is_empty() => {
            let kind = headers
                .get(CONTENT_TYPE)
                .and_then(|kind| kind.to_str().ok());
            // No form of another page can send this without asking first, and nobody is told that it may.
            match kind {
                Some("application/json") => Ok(Wanted::Answer(name.to_owned())),
                _ => Err(Refusal::Type),
            }
        }
        _ => Err(Refusal::Unknown),
    }
}

/// Whether the page itself sends the request; to fetch the page, whoever has its address.
fn from_here(host: &str, headers: &HeaderMap, asks: bool) -> Result<(), Refusal> {
    let one = |name: &HeaderName| -> Result<Option<&str>, Refusal> {
        let mut all = headers.get_all(name).iter();
        let first = all.next().map(|value| value.to_str());
        match (first.transpose(), all.next()) {
            (Ok(text), None) => Ok(text),
            _ => Err(Refusal::Origin),
        }
    };
    let origin = one(&ORIGIN)?;
    let own = origin.is_some_and(|origin| origin.strip_prefix("http://") == Some(host));
    let site = one(&HeaderName::from_static("sec-fetch-site"))?;
    let so = match asks {
        true => own && matches!(site, None | Some("same-origin")),
        false => (own || origin.is_none()) && matches!(site, None | Some("same-origin" | "none")),
    };
    if so { Ok(()) } else { Err(Refusal::Origin) }
}
