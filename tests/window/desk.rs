//! A desk for one test: a screen of its own, a home of its own, the driver, and the window as it ships.

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::io::{BufRead, BufReader};
use std::net::TcpListener;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, PoisonError};

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use tempfile::TempDir;

use crate::driver::{Outcome, Page, is_ready, wait_for};

/// What a desk is set up with.
#[derive(Default)]
pub(crate) struct Wish {
    /// A message bus, as every real desktop has one: a second start finds the first through it.
    pub(crate) bus: bool,
    /// The words that the program is started with.
    pub(crate) words: Vec<String>,
    /// What answers the system's dialogs, which no one can press here.
    pub(crate) answer: Option<PathBuf>,
    /// Another program than the one under test, to hold it against.
    pub(crate) program: Option<PathBuf>,
    /// A small disk that only the program and what it starts can see.
    pub(crate) disk: Option<SmallDisk>,
}

/// A disk with little room, and the file that lies on it when the program starts.
pub(crate) struct SmallDisk {
    pub(crate) place: PathBuf,
    pub(crate) bytes: u64,
    pub(crate) file: PathBuf,
}

impl SmallDisk {
    /// Starts a program in a room of its own, where the disk is there. The program keeps its process.
    fn around(&self, program: &Path) -> Outcome<Command> {
        const LAY_OUT: &str =
            r#"mount -t tmpfs -o size="$1" tmpfs "$2" && cp "$3" "$2" && shift 3 && exec "$@""#;
        let mut command = Command::new("unshare");
        command.args(["--map-root-user", "--mount", "sh", "-c", LAY_OUT, "sh"]);
        command.args([&self.bytes.to_string(), &text_of(&self.place)?, &text_of(&self.file)?]);
        command.arg(program);
        Ok(command)
    }
}

/// Everything that has to stand for a test, and falls with it.
pub(crate) struct Desk {
    pub(crate) page: Page,
    environment: Vec<(&'static str, String)>,
    program: PathBuf,
    words: Vec<String>,
    // Dropped last to first: the driver goes before its screen, and the home when nobody lives in it.
    running: Vec<Running>,
    _home: TempDir,
}

/// Whether a process has let go of all that was open in it: it is gone, or only its end is still to be noted. Its first
/// thread may be marked as ended while others, which hold the same files, are still on their way out.
fn has_ended(process: u32) -> bool {
    let Ok(line) = std::fs::read_to_string(format!("/proc/{process}/stat")) else { return true };
    let marked = line.rsplit(") ").next().is_some_and(|rest| rest.starts_with('Z'));
    let threads = std::fs::read_dir(format!("/proc/{process}/task")).map_or(0, Iterator::count);
    marked && threads <= 1
}

impl Desk {
    /// Opens the window on a screen that is large enough for every size it is looked at in.
    pub(crate) fn open(wish: &Wish) -> Outcome<Self> {
        let home = tempfile::tempdir()?;
        let (screen, display) = started_with_word(Command::new("Xvfb").args([
            "-displayfd",
            "1",
            "-screen",
            "0",
            "1600x1280x24",
            "-nolisten",
            "tcp",
        ]))?;
        let mut environment = vec![("DISPLAY", format!(":{display}")), ("HOME", text_of(home.path())?)];
        for (name, folder) in
            [("XDG_DATA_HOME", "data"), ("XDG_CONFIG_HOME", "config"), ("XDG_CACHE_HOME", "cache")]
        {
            environment.push((name, text_of(&home.path().join(folder))?));
        }
        if let Some(answer) = &wish.answer {
            environment.push(("TEAROFF_DIALOG_ANSWER", text_of(answer)?));
        }
        let mut running = vec![screen];
        if wish.bus {
            let (bus, address) = started_with_word(Command::new("dbus-daemon").args([
                "--session",
                "--nofork",
                "--print-address=1",
            ]))?;
            environment.push(("DBUS_SESSION_BUS_ADDRESS", address));
            running.insert(0, bus);
        }
        let program = wish.program.clone().unwrap_or_else(program);
        let words = wish.words.clone();
        let (driver, page) = driven(&environment, wish.disk.as_ref(), &program, &words)?;
        running.insert(0, driver);
        Ok(Self { page, environment, program, words, running, _home: home })
    }

    /// Ends the program in the middle of whatever it does, as a power cut would, and starts it anew.
    pub(crate) fn kill_and_open_again(&mut self) -> Outcome<()> {
        let process = self.process()?;
        let killed = Command::new("kill").args(["-KILL", &process.to_string()]).status()?;
        assert!(killed.success(), "the program could not be killed");
        // On a busy machine it lives on for a while, and the file stays its own until it has ended.
        wait_for("the killed program to end", || Ok(has_ended(process).then_some(())))?;
        // The driver may or may not have seen by itself that its program is gone: it falls with it.
        drop(self.running.remove(0));
        let (driver, page) = driven(&self.environment, None, &self.program, &self.words)?;
        self.running.insert(0, driver);
        self.page = page;
        Ok(())
    }

    /// The process of the program.
    pub(crate) fn process(&self) -> Outcome<u32> {
        program_running(&self.program, self.running.first().map_or(0, |driver| driver.0.id()))
    }

    /// Starts the program a second time at this desk.
    pub(crate) fn start_again(&self) -> Outcome<Child> {
        self.start_again_with(&[])
    }

    /// As [`Desk::start_again`], with words.
    pub(crate) fn start_again_with(&self, words: &[&str]) -> Outcome<Child> {
        let mut again = Command::new(&self.program);
        Ok(at_desk(again.args(words), &self.environment).stderr(Stdio::null()).spawn()?)
    }

    /// Keeps the page as it is seen under this name: beside the build for whoever wants to look, or in the folder of
    /// pictures when they are being taken.
    pub(crate) fn keep_picture(&self, name: &str) -> Outcome<PathBuf> {
        let kept = env::var_os("TEAROFF_PICTURES").map(PathBuf::from);
        let folder = kept.clone().unwrap_or_else(|| built().join("window-pictures"));
        fs::create_dir_all(&folder)?;
        let path = folder.join(format!("{name}.png"));
        // What has just changed is seen two frames later.
        self.page.run("requestAnimationFrame(() => requestAnimationFrame(() => done(true)))")?;
        let picture = self.page.picture()?;
        // Packing takes as long as all the rest of a look: only what is kept with the code is worth it.
        fs::write(&path, if kept.is_some() { packed(&picture)? } else { picture })?;
        Ok(path)
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        // If the driver is already gone, its processes are ended below all the same.
        let _ = self.page.close();
    }
}

/// The program as it ships, at a desk without a screen.
pub(crate) fn program_without_screen() -> Command {
    let mut command = Command::new(program());
    at_desk(&mut command, &[]);
    command
}

/// The folder of this checkout.
pub(crate) fn checkout() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// A program that is ended, with all that it has started, when it is no longer wanted.
struct Running(Child);

impl Running {
    fn start(command: &mut Command) -> Outcome<Self> {
        let name = command.get_program().to_string_lossy().into_owned();
        let child = command.process_group(0).stderr(Stdio::null()).spawn();
        Ok(Self(child.map_err(|error| format!("{name} could not be started ({error}). Is it installed?"))?))
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let group = format!("-{}", self.0.id());
        let _ = Command::new("kill").args(["-TERM", "--", &group]).stderr(Stdio::null()).status();
        let _ = self.0.wait();
    }
}

/// A picture in as few bytes as it takes: flat color packs best unfiltered, and the pictures are kept with the code.
fn packed(picture: &[u8]) -> Outcome<Vec<u8>> {
    let image = image::load_from_memory(picture)?.to_rgb8();
    let mut bytes = Vec::new();
    image.write_with_encoder(PngEncoder::new_with_quality(
        &mut bytes,
        CompressionType::Best,
        FilterType::NoFilter,
    ))?;
    Ok(bytes)
}

/// The process that a process was started by.
pub(crate) fn parent_of(process: u32) -> Option<u32> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    status.lines().find_map(|line| line.strip_prefix("PPid:")?.trim().parse().ok())
}

/// The process of a program, found among all that the driver has started.
fn program_running(program: &Path, driver: u32) -> Outcome<u32> {
    let program = fs::canonicalize(program)?;
    for item in fs::read_dir("/proc")? {
        let Some(process) = item?.file_name().to_str().and_then(|name| name.parse::<u32>().ok()) else {
            continue;
        };
        if fs::read_link(format!("/proc/{process}/exe")).ok().as_deref() != Some(program.as_path()) {
            continue;
        }
        let mut above = Some(process);
        while let Some(next) = above.filter(|process| *process > 1) {
            if next == driver {
                return Ok(process);
            }
            above = parent_of(next);
        }
    }
    Err("The program under test is not running.".into())
}

/// A driver with the program under it. Once in a great while the system's driver hangs at the start of a session; then
/// another one is tried, and what the first one had started falls with it.
fn driven(
    environment: &[(&'static str, String)],
    disk: Option<&SmallDisk>,
    program: &Path,
    words: &[String],
) -> Outcome<(Running, Page)> {
    const ATTEMPTS: usize = 3;
    let program = text_of(program)?;
    let mut refused = None;
    for _ in 0..ATTEMPTS {
        let [port, native] = free_ports()?;
        let mut command = match disk {
            Some(disk) => disk.around(&driver())?,
            None => Command::new(driver()),
        };
        command.args(["--port", &port.to_string(), "--native-port", &native.to_string()]);
        let mut running = Running::start(at_desk(&mut command, environment).stdout(Stdio::null()))?;
        let base = format!("http://127.0.0.1:{port}");
        let ready = wait_for("the driver", || match running.0.try_wait()? {
            // Somebody else took a port between our look and its start.
            Some(status) => Err(format!("The driver ended before it was ready ({status}).").into()),
            None => Ok(is_ready(&base).then_some(())),
        });
        match ready.and_then(|()| Page::open(&base, &program, words)) {
            Ok(page) => return Ok((running, page)),
            Err(error) => refused = Some(error),
        }
    }
    Err(refused.unwrap_or_else(|| "The driver was never started.".into()))
}

/// Starts a program that says one word on its first line once it is ready.
fn started_with_word(command: &mut Command) -> Outcome<(Running, String)> {
    let mut running = Running::start(command.stdout(Stdio::piped()))?;
    let out = running.0.stdout.take().ok_or("A program was started without a voice.")?;
    let mut word = String::new();
    BufReader::new(out).read_line(&mut word)?;
    let word = word.trim().to_owned();
    if word.is_empty() {
        return Err(format!("{:?} ended before it was ready.", command.get_program()).into());
    }
    Ok((running, word))
}

/// Takes out of the environment all that would tie the program to this machine's own desktop or change how pages are
/// drawn, and puts in what this desk has.
fn at_desk<'a>(command: &'a mut Command, environment: &[(&'static str, String)]) -> &'a mut Command {
    for (name, _) in env::vars_os() {
        let foreign = ["WEBKIT_", "XDG_", "DBUS_", "WAYLAND_", "GTK_", "LC_"];
        if name.to_str().is_some_and(|name| foreign.iter().any(|prefix| name.starts_with(prefix))) {
            command.env_remove(name);
        }
    }
    command
        .env_remove("DISPLAY")
        .env("LANG", "C.UTF-8")
        .env("NO_AT_BRIDGE", "1")
        .env("GSETTINGS_BACKEND", "memory");
    command.envs(environment.iter().map(|(name, value)| (name, value)))
}

/// The folder of the build: where cargo put this very test, two folders up.
fn built() -> PathBuf {
    let here = env::current_exe().ok();
    let folder = here.as_deref().and_then(|test| test.ancestors().nth(3)).map(Path::to_path_buf);
    folder.unwrap_or_else(|| checkout().join("target"))
}

fn program() -> PathBuf {
    env::var_os("TEAROFF_DESKTOP").map_or_else(|| built().join("release/tearoff-desktop"), PathBuf::from)
}

fn driver() -> PathBuf {
    env::var_os("TEAROFF_DRIVER").map_or_else(|| PathBuf::from("tauri-driver"), PathBuf::from)
}

/// Two ports that nobody listens at, and that no other desk of this run was given: the system offers one again as soon
/// as it is let go, and desks are set up side by side.
fn free_ports() -> Outcome<[u16; 2]> {
    static GIVEN: Mutex<BTreeSet<u16>> = Mutex::new(BTreeSet::new());
    let mut given = GIVEN.lock().unwrap_or_else(PoisonError::into_inner);
    let mut free = || -> Outcome<u16> {
        loop {
            let port = TcpListener::bind("127.0.0.1:0")?.local_addr()?.port();
            if given.insert(port) {
                return Ok(port);
            }
        }
    };
    Ok([free()?, free()?])
}

pub(crate) fn text_of(path: &Path) -> Outcome<String> {
    Ok(path.to_str().ok_or("A path of this machine is not UTF-8.")?.to_owned())
}

/// The made-up firm lies open and its owner sits there: without a firm there is nowhere to go.
pub(crate) fn at_the_made_up_firm(bus: bool) -> Outcome<Desk> {
    let desk = Desk::open(&Wish { bus, words: vec!["--sample".to_owned()], ..Wish::default() })?;
    desk.page.wait_for_jobs()?;
    Ok(desk)
}
