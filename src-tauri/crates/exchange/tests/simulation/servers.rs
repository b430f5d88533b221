//! Servers of every kind that a store may be, each started for one test and ended with it. Where one cannot be had the
//! test says so loudly; where `TEAROFF_SERVERS` is set, as `cargo xtask test` does, it must be there.

use exchange::{Address, open_store};
use std::io::Write;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A server that ends with the test.
pub(crate) struct Server {
    child: Option<Child>,
    /// What to forget when it ends.
    known_host: Option<String>,
    _home: TempDir,
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

fn program(name: &str, places: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders = std::env::split_paths(&path).chain(places.iter().map(PathBuf::from));
    folders.map(|folder| folder.join(name)).find(|program| program.is_file())
}

/// Past the test's own capture, so that it is seen.
fn skipped(what: &str) -> Option<Server> {
    assert!(std::env::var_os("TEAROFF_SERVERS").is_none(), "{what} cannot be had here, and must");
    let words = format!("SKIPPED: {what} cannot be had here, so this kind of store was not tried\n");
    let _ = std::io::stderr().write_all(words.as_bytes());
    None
}

fn free_port() -> u16 {
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

fn started(mut command: Command, port: u16, home: &TempDir) -> Child {
    let log = home.path().join("log");
    let said = std::fs::File::create(&log).unwrap();
    let child = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(said).spawn().unwrap();
    wait_for(port, &log);
    child
}

fn server(child: Option<Child>, home: TempDir, address: &str, secret: &str) -> Server {
    let address = Address::parse(address).unwrap();
    Server { child, known_host: None, _home: home, address, secret: secret.to_owned() }
}

pub(crate) fn web_dav() -> Option<Server> {
    let Some(rclone) = program("rclone", &[]) else { return skipped("a WebDAV server (rclone)") };
    let (home, port) = (TempDir::new().unwrap(), free_port());
    let mut command = Command::new(rclone);
    command.args(["serve", "webdav", "--user", "nell", "--pass", "open sesame", "--addr"]);
    command.arg(format!("127.0.0.1:{port}")).arg(home.path());
    let child = started(command, port, &home);
    Some(server(Some(child), home, &format!("http://nell@127.0.0.1:{port}/"), "open sesame"))
}

fn key(path: &Path) {
    let made = Command::new("ssh-keygen").args(["-q", "-t", "ed25519", "-N", "", "-f"]).arg(path).status();
    assert!(made.unwrap().success());
}

pub(crate) fn sftp() -> Option<Server> {
    let (Some(sshd), Some(_)) = (program("sshd", &["/usr/sbin"]), program("ssh", &[])) else {
        return skipped("an SSH server (openssh-server)");
    };
    let (home, port) = (TempDir::new().unwrap(), free_port());
    let at = |name: &str| home.path().join(name);
    key(&at("host"));
    key(&at("own"));
    std::fs::copy(at("own.pub"), at("allowed")).unwrap();
    std::fs::create_dir(at("firm")).unwrap();
    // It asks for this folder although it changes no user here.
    let _ = std::fs::create_dir_all("/run/sshd");
    let text = format!(
        "Port {port}\nListenAddress 127.0.0.1\nHostKey {}\nAuthorizedKeysFile {}\nStrictModes no\nUsePAM no\n\
         PidFile none\nPasswordAuthentication no\nSubsystem sftp internal-sftp\n",
        at("host").display(),
        at("allowed").display()
    );
    std::fs::write(at("config"), text).unwrap();
    let mut command = Command::new(sshd);
    command.arg("-D").arg("-f").arg(at("config"));
    let child = started(command, port, &home);
    let user = Command::new("id").arg("-un").output().unwrap();
    let user = String::from_utf8(user.stdout).unwrap();
    let address = format!("sftp://{}@127.0.0.1:{port}{}", user.trim(), at("firm").display());
    let secret = std::fs::read_to_string(at("own")).unwrap();
    let mut server = server(Some(child), home, &address, &secret);
    server.known_host = Some(format!("[127.0.0.1]:{port}"));
    Some(server)
}

/// In this process: an S3-type server is a library.
pub(crate) fn s3() -> Server {
    let home = TempDir::new().unwrap();
    std::fs::create_dir(home.path().join("firm")).unwrap();
    let files = s3s_fs::FileSystem::new(home.path()).unwrap();
    let mut service = s3s::service::S3ServiceBuilder::new(files);
    service.set_auth(s3s::auth::SimpleAuth::from_single("AKEY", "open sesame"));
    let service = service.build();
    let listener = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let port = listener.local_addr().unwrap().port();
    listener.set_nonblocking(true).unwrap();
    // It ends with the process.
    std::thread::spawn(move || {
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().unwrap();
        runtime.block_on(async move {
            let listener = tokio::net::TcpListener::from_std(listener).unwrap();
            while let Ok((socket, _)) = listener.accept().await {
                let service = service.clone();
                tokio::spawn(async move {
                    let http =
                        hyper_util::server::conn::auto::Builder::new(hyper_util::rt::TokioExecutor::new());
                    let socket = hyper_util::rt::TokioIo::new(socket);
                    let _ = http.serve_connection(socket, service).await;
                });
            }
        });
    });
    let address = format!("s3://AKEY@firm/parcels?endpoint=http://127.0.0.1:{port}");
    server(None, home, &address, "open sesame")
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
