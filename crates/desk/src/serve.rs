//! The server: listens, lets in, and hands on what is asked.

use crate::address::{Address, host};
use crate::guard::{Refusal, Wanted, admit};
use crate::{Desk, Page};
use http_body_util::{BodyExt, Full, Limited};
use hyper::body::{Bytes, Incoming};
use hyper::header::{CONTENT_TYPE, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use std::convert::Infallible;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;

/// Most bytes of a question (a choice: a day with 200 colonies and its loaded plan takes a quarter of a megabyte).
const MOST_BYTES: usize = 2_000_000;
/// Most bytes of a request's head.
const MOST_HEAD: usize = 16_384;
/// How long a head, or a body, may take to arrive (a choice: over a weak network a second or two).
const PATIENCE: Duration = Duration::from_secs(10);
/// Most connections at once (a choice: a browser holds six); others wait in the system's own line.
const CONNECTIONS: usize = 64;
/// Most questions that are worked on or wait for it (a choice: a page asks one or two at a time).
const QUESTIONS: usize = 32;
/// Threads that work on them (a choice: one answers while another still proves).
const WORKERS: usize = 4;

/// How it is served.
#[derive(Debug, Clone, Copy, Default)]
pub struct Options {
    /// The port; without one [`USUAL`] where it is free, else any: at the same address a browser finds again what it
    /// has kept.
    pub port: Option<u16>,
    /// Let telephones of the same network in, instead of this machine.
    pub phone: bool,
}

/// The port where none is asked for (a choice: nobody's by registration).
pub const USUAL: u16 = 47_817;

/// Why nothing is served.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure(pub String);

/// Serves until Ctrl-C; `ready` is told the address once it is listened at.
///
/// # Errors
/// Where the address cannot be had.
pub fn serve(
    desk: Arc<dyn Desk>,
    options: Options,
    ready: impl FnOnce(&Address),
) -> Result<(), Failure> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(WORKERS)
        .enable_all()
        .build()
        .map_err(|error| Failure(error.to_string()))?;
    let served = runtime.block_on(listen(desk, options, ready));
    // What is still being worked on is of use to nobody.
    runtime.shutdown_background();
    served.map_err(Failure)
}

async fn listen(
    desk: Arc<dyn Desk>,
    options: Options,
    ready: impl FnOnce(&Address),
) -> Result<(), String> {
    let ip = host(options.phone)?;
    let at = SocketAddr::new(ip, options.port.unwrap_or(USUAL));
    let mut listener = TcpListener::bind(at).await;
    if listener.is_err() && options.port.is_none() {
        listener = TcpListener::bind(SocketAddr::new(ip, 0)).await;
    }
    let listener = listener.map_err(|error| format!("cannot listen at {at}: {error}"))?;
    let socket = listener.local_addr().map_err(|error| error.to_string())?;
    let room = Arc::new(Room {
        address: Address::new(socket)?,
        desk,
        questions: Semaphore::new(QUESTIONS),
    });
    ready(&room.address);
    let connections = Arc::new(Semaphore::new(CONNECTIONS));
    let accept = async move {
        loop {
            let Ok(held) = Arc::clone(&connections).acquire_owned().await else {
                return;
            };
            match listener.accept().await {
                Ok((stream, _)) => {
                    let room = Arc::clone(&room);
                    tokio::spawn(async move {
                        connection(stream, room).await;
                        drop(held);
                    });
                }
                // Too many files are open, or the other end is gone already.
                Err(_) => tokio::time::sleep(Duration::from_millis(20)).await,
            }
        }
    };
    tokio::spawn(accept);
    let stopped = tokio::signal::ctrl_c().await;
    stopped.map_err(|error| error.to_string())
}

async fn connection(stream: TcpStream, room: Arc<Room>) {
    let _ = stream.set_nodelay(true);
    let service = service_fn(|request| {
        let room = Arc::clone(&room);
        async move { Ok::<_, Infallible>(room.respond(request).await) }
    });
    let mut builder = http1::Builder::new();
    builder
        .timer(TokioTimer::new())
        .header_read_timeout(PATIENCE)
        .max_buf_size(MOST_HEAD);
    // A connection that breaks off is nobody's fault.
    let _ = builder
        .serve_connection(TokioIo::new(stream), service)
        .await;
}

struct Room {
    address: Address,
    desk: Arc<dyn Desk>,
    questions: Semaphore,
}

impl Room {
    async fn respond(&self, request: Request<Incoming>) -> Response<Full<Bytes>> {
        let answered = self.answer(request).await;
        let mut response = answered.unwrap_or_else(|refusal| {
            let text = format!("{refusal:?}").to_lowercase();
            let mut response = said("text/plain; charset=utf-8", text.into());
            *response.status_mut() = refusal.status();
            response
        });
        let headers = response.headers_mut();
        for (name, value) in ALWAYS {
            headers
                .entry(name)
                .or_insert(HeaderValue::from_static(value));
        }
        response
    }

    async fn answer(&self, request: Request<Incoming>) -> Result<Response<Full<Bytes>>, Refusal> {
        let (head, body) = request.into_parts();
        let wanted = admit(&self.address, &head.method, &head.uri, &head.headers)?;
        let _held = self.questions.try_acquire().map_err(|_| Refusal::Busy)?;
        let desk = Arc::clone(&self.desk);
        let name = match wanted {
            Wanted::Page => {
                let page = work(move || desk.page()).await?;
                return Ok(shown(page));
            }
            Wanted::Answer(name) => name,
        };
        let body = tokio::time::timeout(PATIENCE, Limited::new(body, MOST_BYTES).collect());
        let body = body.await.map_err(|_| Refusal::Slow)?;
        let body = body.map_err(|_| Refusal::Size)?.to_bytes();
        let answer = work(move || desk.ask(&name, &body)).await?;
        let answer = answer.ok_or(Refusal::Unknown)?;
        Ok(said("application/json", answer.into()))
    }
}

/// Does what takes time, beside the connections. What panics is answered as if there were too much to do.
async fn work<T: Send + 'static>(job: impl FnOnce() -> T + Send + 'static) -> Result<T, Refusal> {
    let done = tokio::task::spawn_blocking(job).await;
    done.map_err(|_| Refusal::Busy)
}

fn shown(page: Result<Page, String>) -> Response<Full<Bytes>> {
    let page = match page {
        Ok(page) => page,
        Err(why) => {
            let mut response = said("text/plain; charset=utf-8", why.into());
            *response.status_mut() = StatusCode::INTERNAL_SERVER_ERROR;
            return response;
        }
    };
    let scripts: Vec<String> = page.scripts.iter().map(|s| format!("'{s}'")).collect();
    let policy = format!(
        "default-src 'none'; style-src 'unsafe-inline'; script-src {}; img-src data:; connect-src 'self'; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
        scripts.join(" ")
    );
    let mut response = said("text/html; charset=utf-8", page.html.into());
    if let Ok(policy) = HeaderValue::from_str(&policy) {
        response
            .headers_mut()
            .insert("content-security-policy", policy);
    }
    response
}

fn said(kind: &'static str, body: Bytes) -> Response<Full<Bytes>> {
    let mut response = Response::new(Full::new(body));
    let kind = HeaderValue::from_static(kind);
    response.headers_mut().insert(CONTENT_TYPE, kind);
    response
}

/// What goes with every answer: nobody else's page may read it, show it, keep it or learn the address from it.
const ALWAYS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cache-control", "no-store"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];
