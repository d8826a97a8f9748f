//! What is made to get in, to get more, or to bring the server down: each is refused, and it goes on.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

use spareframe_desk::{Address, Desk, Options, Page, serve};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::channel;
use std::sync::{Arc, LazyLock};
use std::time::Duration;

static ASKED: AtomicUsize = AtomicUsize::new(0);

struct Echo;

impl Desk for Echo {
    fn page(&self) -> Result<Page, String> {
        Ok(Page {
            html: "<!DOCTYPE html><title>page</title>".to_owned(),
            scripts: vec!["sha256-abc=".to_owned()],
        })
    }

    fn ask(&self, question: &str, body: &[u8]) -> Option<Vec<u8>> {
        ASKED.fetch_add(1, Ordering::Relaxed);
        (question == "echo").then(|| body.to_vec())
    }
}

/// One server for all tests; it ends with them.
static SERVED: LazyLock<Address> = LazyLock::new(|| {
    let (tell, told) = channel();
    std::thread::spawn(move || {
        let options = Options {
            port: Some(0),
            phone: false,
        };
        serve(Arc::new(Echo), options, |address| {
            tell.send(address.clone()).unwrap()
        })
        .unwrap();
    });
    told.recv().unwrap()
});

fn host() -> String {
    SERVED.socket.to_string()
}

fn token() -> String {
    let link = SERVED.link();
    link.trim_end_matches('/')
        .rsplit('/')
        .next()
        .unwrap()
        .to_owned()
}

fn send(bytes: &[u8]) -> String {
    let mut stream = TcpStream::connect(SERVED.socket).unwrap();
    stream
        .set_read_timeout(Some(Duration::from_secs(20)))
        .unwrap();
    let _ = stream.write_all(bytes);
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

fn status(answer: &str) -> u16 {
    answer
        .split(' ')
        .nth(1)
        .and_then(|code| code.parse().ok())
        .unwrap_or(0)
}

/// A request with these lines in its head, and a body.
fn request(line: &str, head: &[String], body: &str) -> String {
    let mut text = format!("{line} HTTP/1.1\r\nConnection: close\r\n");
    for header in head {
        text += &format!("{header}\r\n");
    }
    send(format!("{text}Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes())
}

/// What the page itself sends, but for one line of the head.
fn asks(other: &[&str]) -> String {
    let own = [
        format!("Host: {}", host()),
        format!("Origin: http://{}", host()),
        "Sec-Fetch-Site: same-origin".to_owned(),
        "Content-Type: application/json".to_owned(),
    ];
    let name = |line: &str| line.split(':').next().unwrap_or("").to_lowercase();
    let kept = own
        .iter()
        .filter(|line| !other.iter().any(|o| name(o) == name(line)));
    let head: Vec<String> = kept
        .cloned()
        .chain(
            other
                .iter()
                .filter(|o| o.contains(": "))
                .map(|o| (*o).to_owned()),
        )
        .collect();
    request(&format!("POST /{}/echo", token()), &head, "{}")
}

fn page(path: &str, other: &[&str]) -> String {
    let mut head = vec![format!("Host: {}", host())];
    if other
        .iter()
        .any(|line| line.to_lowercase().starts_with("host"))
    {
        head.clear();
    }
    head.extend(
        other
            .iter()
            .filter(|o| o.contains(": "))
            .map(|o| (*o).to_owned()),
    );
    request(&format!("GET {path}"), &head, "")
}

#[test]
fn the_page_is_had_with_its_address_and_asks_from_there() {
    let answer = page(&format!("/{}/", token()), &[]);
    assert_eq!(status(&answer), 200, "{answer}");
    let head = answer.to_lowercase();
    for part in [
        "script-src 'sha256-abc='; ",
        "default-src 'none'",
        "connect-src 'self'",
        "frame-ancestors 'none'",
        "x-content-type-options: nosniff",
        "referrer-policy: same-origin",
        "cache-control: no-store",
        "cross-origin-resource-policy: same-origin",
    ] {
        assert!(head.contains(part), "{part}: {answer}");
    }
    assert!(!head.contains("access-control"), "{answer}");
    assert_eq!(status(&asks(&[])), 200);
    assert_eq!(status(&asks(&["Sec-Fetch-Site:"])), 200, "an old browser");
    let local = format!("localhost:{}", SERVED.socket.port());
    let (own, origin) = (format!("Host: {local}"), format!("Origin: http://{local}"));
    assert_eq!(status(&asks(&[&own, &origin])), 200);
}

#[test]
fn another_host_is_refused_whoever_it_resolves_to() {
    for wrong in [
        "Host: evil.example",
        "Host: evil.example:80",
        "Host: 127.0.0.1",
        "Host: ",
        "Host:",
    ] {
        let answer = page(&format!("/{}/", token()), &[wrong]);
        assert!(matches!(status(&answer), 421 | 400), "{wrong}: {answer}");
        assert!(matches!(status(&asks(&[wrong])), 421 | 400), "{wrong}");
    }
    let twice = request(
        &format!("GET /{}/", token()),
        &[format!("Host: {}", host()), "Host: evil.example".to_owned()],
        "",
    );
    assert!(matches!(status(&twice), 421 | 400), "{twice}");
    let absolute = page(&format!("http://evil.example/{}/", token()), &[]);
    assert!(matches!(status(&absolute), 421 | 400), "{absolute}");
}

#[test]
fn another_page_is_refused() {
    for wrong in [
        "Origin: https://evil.example",
        "Origin: null",
        "Origin:",
        "Origin: http://127.0.0.1:1",
        "Sec-Fetch-Site: cross-site",
        "Sec-Fetch-Site: same-site",
        "Sec-Fetch-Site: none",
    ] {
        let answer = asks(&[wrong]);
        assert_eq!(status(&answer), 403, "{wrong}: {answer}");
        assert!(
            !answer.to_lowercase().contains("access-control"),
            "{answer}"
        );
    }
    for wrong in ["Origin: https://evil.example", "Sec-Fetch-Site: cross-site"] {
        assert_eq!(
            status(&page(&format!("/{}/", token()), &[wrong])),
            403,
            "{wrong}"
        );
    }
    for kind in [
        "text/plain",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "",
    ] {
        let kind = format!("Content-Type: {kind}");
        assert_eq!(status(&asks(&[&kind])), 415, "{kind}");
    }
}

#[test]
fn without_the_token_there_is_nothing_and_no_path_leads_to_a_file() {
    let token = token();
    let wrong = "0".repeat(32);
    for path in [
        "/",
        "/index.html",
        "//",
        &format!("/{wrong}/"),
        &format!("/{}/", &token[1..]),
        &format!("/{token}"),
        &format!("/{token}/?x=1"),
        &format!("/{token}/etc/passwd"),
        &format!("/{token}/../../../etc/passwd"),
        &format!("/{token}/..%2f..%2fetc%2fpasswd"),
        &format!("/{token}/%2e%2e/"),
        &format!("/{token}//"),
        &format!("/x/../{token}/"),
        &format!("/{}/", token.to_uppercase().replace(char::is_numeric, "Z")),
        "/Cargo.toml",
    ] {
        let answer = page(path, &[]);
        assert!(matches!(status(&answer), 404 | 400), "{path}: {answer}");
        assert!(!answer.contains("root:"), "{answer}");
    }
    let before = ASKED.load(Ordering::Relaxed);
    let head = [
        format!("Host: {}", host()),
        format!("Origin: http://{}", host()),
        "Content-Type: application/json".to_owned(),
    ];
    assert_eq!(
        status(&request(&format!("POST /{wrong}/echo"), &head, "{}")),
        404
    );
    assert_eq!(
        status(&request(&format!("POST /{token}/other"), &head, "{}")),
        404
    );
    assert!(
        ASKED.load(Ordering::Relaxed) > before,
        "the desk itself says that there is no such question"
    );
    for method in ["PUT", "DELETE", "OPTIONS", "HEAD", "TRACE", "PATCH"] {
        let answer = request(&format!("{method} /{token}/"), &head, "");
        assert_eq!(status(&answer), 405, "{method}: {answer}");
        assert!(
            !answer.to_lowercase().contains("access-control"),
            "{answer}"
        );
    }
}

#[test]
fn huge_and_broken_requests_are_refused() {
    let head = format!(
        "POST /{}/echo HTTP/1.1\r\nHost: {h}\r\nOrigin: http://{h}\r\nContent-Type: application/json\r\nConnection: close\r\n",
        token(),
        h = host()
    );
    let huge = "x".repeat(2_500_000);
    let answer = send(format!("{head}Content-Length: {}\r\n\r\n{huge}", huge.len()).as_bytes());
    assert!(matches!(status(&answer), 413 | 0), "{answer}");
    let chunk = format!("{:x}\r\n{huge}\r\n", huge.len());
    let answer = send(format!("{head}Transfer-Encoding: chunked\r\n\r\n{chunk}").as_bytes());
    assert!(matches!(status(&answer), 413 | 0), "{answer}");
    let answer = send(format!("{head}Transfer-Encoding: chunked\r\n\r\nzz\r\nbroken").as_bytes());
    assert!(status(&answer) != 200, "{answer}");
    let answer =
        send(format!("{head}Content-Length: 5\r\nContent-Length: 6\r\n\r\n{{}}xxxx").as_bytes());
    assert!(status(&answer) != 200, "{answer}");
    let answer = send(format!("{head}X-Long: {}\r\n\r\n", "y".repeat(100_000)).as_bytes());
    assert!(status(&answer) != 200, "{answer}");
    for junk in [
        "\r\n\r\n",
        "GET\r\n\r\n",
        "\u{0}\u{1}\u{2}",
        "GET / HTTP/9.9\r\n\r\n",
        "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ] {
        assert!(status(&send(junk.as_bytes())) != 200, "{junk:?}");
    }
    assert_eq!(status(&asks(&[])), 200, "and it goes on");
}

#[test]
fn ten_thousand_requests_at_once_and_idle_connections_do_not_bring_it_down() {
    let idle: Vec<TcpStream> = (0..40)
        .map(|_| TcpStream::connect(SERVED.socket).unwrap())
        .collect();
    let answered = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..100 {
            scope.spawn(|| {
                for _ in 0..100 {
                    if matches!(status(&asks(&[])), 200 | 503) {
                        answered.fetch_add(1, Ordering::Relaxed);
                    }
                }
            });
        }
    });
    assert_eq!(answered.load(Ordering::Relaxed), 10_000);
    drop(idle);
    assert_eq!(status(&asks(&[])), 200, "and it goes on");
}
