//! A browser asked through its debugging port: just enough of the protocol to open a page, run an
//! expression in it, press keys and take pictures.

use serde_json::{Value, json};
use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const NAMES: [&str; 3] = ["chromium", "chromium-browser", "google-chrome"];

/// A browser with one page.
pub struct Browser {
    child: Child,
    folder: PathBuf,
    socket: TcpStream,
    session: String,
    number: u64,
    /// What the page wrote to its console, and what it was refused.
    pub log: Vec<String>,
}

impl Browser {
    /// Starts a browser; nothing where none is installed.
    pub fn start() -> Option<Browser> {
        let name = NAMES.iter().find(|name| {
            let found = Command::new(name)
                .arg("--version")
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .status();
            found.is_ok_and(|status| status.success())
        })?;
        let folder = std::env::temp_dir().join(format!(
            "gaugebook-browser-{}-{:?}",
            std::process::id(),
            std::thread::current().id()
        ));
        fs::create_dir_all(&folder).expect("a folder for the browser");
        let child = Command::new(name)
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--hide-scrollbars",
                "--force-color-profile=srgb",
                "--remote-debugging-port=0",
            ])
            .arg(format!("--user-data-dir={}", folder.display()))
            .arg("about:blank")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the browser starts");
        let (port, path) = endpoint(&folder);
        let socket = connect(port, &path);
        let mut browser = Browser {
            child,
            folder,
            socket,
            session: String::new(),
            number: 0,
            log: Vec::new(),
        };
        let target = browser.send("Target.createTarget", json!({"url": "about:blank"}));
        let id = target["targetId"].as_str().expect("a page").to_owned();
        let attached = browser.send(
            "Target.attachToTarget",
            json!({"targetId": id, "flatten": true}),
        );
        browser.session = attached["sessionId"]
            .as_str()
            .expect("a session")
            .to_owned();
        for domain in ["Page", "Runtime", "Log", "Network"] {
            browser.send(&format!("{domain}.enable"), json!({}));
        }
        Some(browser)
    }

    /// Opens a page and waits until it has run.
    pub fn open(&mut self, html: &str) {
        let file = self.folder.join("page.html");
        fs::write(&file, html).expect("the page is written");
        self.log.clear();
        self.send(
            "Page.navigate",
            json!({"url": format!("file://{}", file.display())}),
        );
        let begun = Instant::now();
        while self.evaluate("document.readyState").as_str() != Some("complete")
            || self.evaluate("location.protocol").as_str() != Some("file:")
        {
            assert!(
                begun.elapsed() < Duration::from_secs(20),
                "the page does not load"
            );
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// The value of an expression in the page.
    pub fn evaluate(&mut self, expression: &str) -> Value {
        let answer = self.send(
            "Runtime.evaluate",
            json!({"expression": expression, "returnByValue": true, "awaitPromise": true}),
        );
        if let Some(trouble) = answer.get("exceptionDetails") {
            panic!("{expression}: {trouble}");
        }
        answer["result"]["value"].clone()
    }

    /// Width and height of the window, and whether the reader prefers dark.
    pub fn view(&mut self, width: u32, height: u32, dark: bool) {
        self.send(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}),
        );
        let scheme = if dark { "dark" } else { "light" };
        self.send(
            "Emulation.setEmulatedMedia",
            json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]}),
        );
    }

    /// Presses a key.
    pub fn press(&mut self, key: &str, code: u32) {
        for kind in ["rawKeyDown", "keyUp"] {
            self.send(
                "Input.dispatchKeyEvent",
                json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code}),
            );
        }
    }

    /// Types a text where the focus is.
    pub fn insert(&mut self, text: &str) {
        self.send("Input.insertText", json!({"text": text}));
    }

    /// A picture of the page, kept in the folder that `GAUGEBOOK_PICTURES` names, if it does.
    pub fn picture(&mut self, name: &str, whole: bool) {
        let Some(folder) = std::env::var_os("GAUGEBOOK_PICTURES") else {
            return;
        };
        let picture = self.send(
            "Page.captureScreenshot",
            json!({"format": "png", "captureBeyondViewport": whole}),
        );
        let data = picture["data"].as_str().expect("a picture");
        let file = Path::new(&folder).join(format!("{name}.png"));
        fs::write(file, from_base64(data)).expect("the picture is written");
    }

    fn send(&mut self, method: &str, parameters: Value) -> Value {
        self.number += 1;
        let number = self.number;
        let mut message = json!({"id": number, "method": method, "params": parameters});
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        write_frame(&mut self.socket, message.to_string().as_bytes());
        loop {
            let text = read_message(&mut self.socket);
            let answer: Value = serde_json::from_slice(&text).expect("an answer");
            if answer["id"].as_u64() == Some(number) {
                assert!(answer.get("error").is_none(), "{method}: {answer}");
                return answer["result"].clone();
            }
            self.note(&answer);
        }
    }

    fn note(&mut self, event: &Value) {
        let parameters = &event["params"];
        match event["method"].as_str() {
            Some("Runtime.exceptionThrown") => {
                self.log.push(parameters["exceptionDetails"].to_string())
            }
            Some("Runtime.consoleAPICalled") => self.log.push(parameters["args"].to_string()),
            Some("Log.entryAdded") => self.log.push(parameters["entry"]["text"].to_string()),
            Some("Network.requestWillBeSent") => {
                let url = parameters["request"]["url"].as_str().unwrap_or("");
                if !url.starts_with("file:") && !url.starts_with("about:") {
                    self.log.push(format!("request to {url}"));
                }
            }
            _ => {}
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = fs::remove_dir_all(&self.folder);
    }
}

fn endpoint(folder: &Path) -> (u16, String) {
    let begun = Instant::now();
    loop {
        let text = fs::read_to_string(folder.join("DevToolsActivePort")).unwrap_or_default();
        if let Some((port, path)) = text.split_once('\n') {
            return (port.trim().parse().expect("a port"), path.trim().to_owned());
        }
        assert!(
            begun.elapsed() < Duration::from_secs(60),
            "the browser does not start"
        );
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// The opening of RFC 6455; the key is the one of its example.
fn connect(port: u16, path: &str) -> TcpStream {
    let mut socket = TcpStream::connect(("127.0.0.1", port)).expect("the browser listens");
    socket
        .set_read_timeout(Some(Duration::from_secs(60)))
        .expect("a limit");
    let request = format!(
        "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nUpgrade: websocket\r\n\
         Connection: Upgrade\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\
         Sec-WebSocket-Version: 13\r\n\r\n"
    );
    socket
        .write_all(request.as_bytes())
        .expect("the request is sent");
    let mut head = Vec::new();
    while !head.ends_with(b"\r\n\r\n") {
        let mut byte = [0];
        socket.read_exact(&mut byte).expect("an answer");
        head.push(byte[0]);
    }
    assert!(
        head.starts_with(b"HTTP/1.1 101"),
        "{}",
        String::from_utf8_lossy(&head)
    );
    socket
}

fn write_frame(socket: &mut TcpStream, text: &[u8]) {
    let mut frame = vec![0x81];
    match text.len() {
        length @ 0..126 => frame.push(0x80 | length as u8),
        length @ 126..65536 => {
            frame.push(0x80 | 126);
            frame.extend_from_slice(&(length as u16).to_be_bytes());
        }
        length => {
            frame.push(0x80 | 127);
            frame.extend_from_slice(&(length as u64).to_be_bytes());
        }
    }
    // A mask of zeros leaves the text as it is.
    frame.extend_from_slice(&[0; 4]);
    frame.extend_from_slice(text);
    socket.write_all(&frame).expect("the frame is sent");
}

fn read_message(socket: &mut TcpStream) -> Vec<u8> {
    let mut message = Vec::new();
    loop {
        let mut head = [0; 2];
        socket.read_exact(&mut head).expect("a frame");
        let length = match head[1] & 0x7f {
            126 => {
                let mut bytes = [0; 2];
                socket.read_exact(&mut bytes).expect("a length");
                u64::from(u16::from_be_bytes(bytes))
            }
            127 => {
                let mut bytes = [0; 8];
                socket.read_exact(&mut bytes).expect("a length");
                u64::from_be_bytes(bytes)
            }
            short => u64::from(short),
        };
        let mut part = vec![0; length as usize];
        socket.read_exact(&mut part).expect("a frame");
        if matches!(head[0] & 0x0f, 0 | 1) {
            message.extend(part);
            if head[0] & 0x80 != 0 {
                return message;
            }
        }
    }
}

fn from_base64(text: &str) -> Vec<u8> {
    let value = |byte: u8| match byte {
        b'A'..=b'Z' => u32::from(byte - b'A'),
        b'a'..=b'z' => u32::from(byte - b'a') + 26,
        b'0'..=b'9' => u32::from(byte - b'0') + 52,
        b'+' => 62,
        _ => 63,
    };
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    for four in text.as_bytes().chunks(4) {
        let kept = four.iter().take_while(|byte| **byte != b'=').count();
        let word = four
            .iter()
            .take(kept)
            .fold(0, |word, byte| word << 6 | value(*byte));
        let word = word << (6 * (4 - kept));
        bytes.extend_from_slice(&word.to_be_bytes()[1..kept.max(1)]);
    }
    bytes
}
