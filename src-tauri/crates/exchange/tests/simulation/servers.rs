//! Servers of every kind that a store may be, but for the database's, which stands with what they share.

use crate::server::{Server, free_port, program, server, skipped, started};
use std::net::TcpListener;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

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
