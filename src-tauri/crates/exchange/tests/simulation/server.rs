//! A server that is started for one test, or for measuring, and ends with it. Where one cannot be had that is said
//! loudly; where `TEAROFF_SERVERS` is set, as `cargo xtask test` does, it must be there.

use exchange::{Address, open_store};
use std::io::Write;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A server that ends with the test.
pub(crate) struct Server {
    pub(crate) child: Option<Child>,
    /// What to forget when it ends.
    pub(crate) known_host: Option<String>,
    pub(crate) _home: TempDir,
    pub(crate) address: Address,
    pub(crate) secret: String,
}

impl Drop for Server {
    fn drop(&mut self) {
        if let Some(child) = &mut self.child {
            let _ = child.kill();
            let _ = child.wait();
        }
        if let Some(host) = &self.known_host {
            let _ = Command::new("ssh-keygen").args(["-q", "-R", host]).output();
        }
    }
}

pub(crate) fn program(name: &str, places: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders = std::env::split_paths(&path).chain(places.iter().map(PathBuf::from));
    folders.map(|folder| folder.join(name)).find(|program| program.is_file())
}

/// Past the test's own capture, so that it is seen.
pub(crate) fn skipped(what: &str) -> Option<Server> {
    assert!(std::env::var_os("TEAROFF_SERVERS").is_none(), "{what} cannot be had here, and must");
    let words = format!("SKIPPED: {what} cannot be had here, so this kind of store was not tried\n");
    let _ = std::io::stderr().write_all(words.as_bytes());
    None
}

pub(crate) fn free_port() -> u16 {
    TcpListener::bind(("127.0.0.1", 0)).unwrap().local_addr().unwrap().port()
}

fn wait_for(port: u16, log: &Path) {
    let began = Instant::now();
    while TcpStream::connect(("127.0.0.1", port)).is_err() {
        let said = || std::fs::read_to_string(log).unwrap_or_default();
        assert!(began.elapsed() < Duration::from_secs(60), "nothing answers on port {port}: {}", said());
        std::thread::sleep(Duration::from_millis(50));
    }
}

pub(crate) fn started(mut command: Command, port: u16, home: &TempDir) -> Child {
    let log = home.path().join("log");
    let said = std::fs::File::create(&log).unwrap();
    let child = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(said).spawn().unwrap();
    wait_for(port, &log);
    child
}

pub(crate) fn server(child: Option<Child>, home: TempDir, address: &str, secret: &str) -> Server {
    let address = Address::parse(address).unwrap();
    Server { child, known_host: None, _home: home, address, secret: secret.to_owned() }
}

pub(crate) fn postgresql() -> Option<Server> {
    let places = ["/usr/lib/postgresql/15/bin", "/usr/lib/postgresql/16/bin", "/usr/lib/postgresql/17/bin"];
    let (Some(initdb), Some(postgres)) = (program("initdb", &places), program("postgres", &places)) else {
        return skipped("a PostgreSQL server (postgresql)");
    };
    let (home, port) = (TempDir::new().unwrap(), free_port());
    let (rows, password) = (home.path().join("rows"), home.path().join("password"));
    std::fs::write(&password, "open sesame").unwrap();
    // It refuses to run as root.
    #[cfg(unix)]
    let is_root = std::os::unix::fs::MetadataExt::uid(&std::fs::metadata(home.path()).unwrap()) == 0;
    let humble = |program: PathBuf| {
        let mut command = Command::new(program);
        #[cfg(unix)]
        {
            use std::os::unix::fs::chown;
            use std::os::unix::process::CommandExt;
            const NOBODY: u32 = 65_534;
            if is_root {
                for path in [home.path(), password.as_path()] {
                    chown(path, Some(NOBODY), Some(NOBODY)).unwrap();
                }
                command.uid(NOBODY).gid(NOBODY);
            }
        }
        command.current_dir("/");
        command
    };
    let mut make = humble(initdb);
    make.args(["--auth=scram-sha-256", "--username=nell", "--no-sync", "--pwfile"]).arg(&password);
    let made = make.arg("-D").arg(&rows).output().unwrap();
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let mut run = humble(postgres);
    run.arg("-D").arg(&rows).args(["-c", "listen_addresses=127.0.0.1", "-p", &port.to_string(), "-k"]);
    run.arg(home.path());
    let child = started(run, port, &home);
    let address = format!("postgresql://nell@127.0.0.1:{port}/postgres");
    // The port answers a moment before the database does.
    let began = Instant::now();
    while let Err(refused) = open_store(&Address::parse(&address).unwrap(), Some("open sesame")) {
        assert!(began.elapsed() < Duration::from_secs(30), "{refused}");
        std::thread::sleep(Duration::from_millis(100));
    }
    Some(server(Some(child), home, &address, "open sesame"))
}
