//! One call of another program: plain words, never a line for a shell to take apart.

use std::ffi::{OsStr, OsString};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};

use crate::trouble::Trouble;

/// A program with its words, kept so that trouble can quote them.
pub(crate) struct Call {
    command: Command,
    said: String,
}

impl Call {
    /// A call of `program` with no words yet.
    pub(crate) fn new(program: impl AsRef<OsStr>) -> Self {
        let program = program.as_ref();
        Self { command: Command::new(program), said: short(program) }
    }

    /// Adds one word.
    pub(crate) fn arg(mut self, word: impl AsRef<OsStr>) -> Self {
        self.said.push(' ');
        self.said.push_str(&word.as_ref().to_string_lossy());
        self.command.arg(word);
        self
    }

    /// Adds several words.
    pub(crate) fn args<W: AsRef<OsStr>>(self, words: impl IntoIterator<Item = W>) -> Self {
        words.into_iter().fold(self, Self::arg)
    }

    /// Sets a variable for the called program only.
    pub(crate) fn env(mut self, name: &str, value: impl AsRef<OsStr>) -> Self {
        self.command.env(name, value);
        self
    }

    /// The folder to run in.
    pub(crate) fn dir(mut self, folder: &Path) -> Self {
        self.command.current_dir(folder);
        self
    }

    /// Runs it with this terminal's own output.
    pub(crate) fn run(mut self) -> Result<(), Trouble> {
        println!("  $ {}", self.said);
        let status = self.command.status();
        let status = status.map_err(|source| Trouble::NotStarted { call: self.said.clone(), source })?;
        if status.success() { Ok(()) } else { Err(Trouble::Refused { call: self.said, how: ending(status) }) }
    }

    /// Starts it with this terminal's own output and goes on at once.
    pub(crate) fn start(mut self) -> Result<Running, Trouble> {
        println!("  $ {} &", self.said);
        let child = self.command.stdin(Stdio::null()).spawn();
        let child = child.map_err(|source| Trouble::NotStarted { call: self.said.clone(), source })?;
        Ok(Running { child, said: self.said })
    }

    /// Runs it and keeps what it writes, to be shown when it has ended: for what runs beside something else.
    pub(crate) fn run_aside(mut self) -> (String, Result<(), Trouble>) {
        let mut wrote = format!("  $ {}\n", self.said);
        let output = match self.command.stdin(Stdio::null()).output() {
            Ok(output) => output,
            Err(source) => return (wrote, Err(Trouble::NotStarted { call: self.said, source })),
        };
        wrote.push_str(&String::from_utf8_lossy(&output.stdout));
        wrote.push_str(&String::from_utf8_lossy(&output.stderr));
        let outcome = if output.status.success() {
            Ok(())
        } else {
            Err(Trouble::Refused { call: self.said, how: ending(output.status) })
        };
        (wrote, outcome)
    }

    /// Runs it quietly and gives back what it wrote; what it wrote to standard error is quoted in the trouble.
    pub(crate) fn read(mut self) -> Result<String, Trouble> {
        let output = self.command.stdin(Stdio::null()).output();
        let output = output.map_err(|source| Trouble::NotStarted { call: self.said.clone(), source })?;
        if output.status.success() {
            return String::from_utf8(output.stdout)
                .map_err(|_| Trouble::said(format!("`{}` wrote something that is not text.", self.said)));
        }
        let wrote = String::from_utf8_lossy(&output.stderr);
        let how = format!("{}; it wrote: {}", ending(output.status), wrote.trim());
        Err(Trouble::Refused { call: self.said, how })
    }

    /// Whether it can be started and ends well; nothing it writes is shown.
    pub(crate) fn works(mut self) -> bool {
        let quiet = self.command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        quiet.status().is_ok_and(|status| status.success())
    }
}

/// A program that runs beside the chore. It ends with what holds it, at the latest.
pub(crate) struct Running {
    child: Child,
    said: String,
}

impl Running {
    /// Whether it has ended by itself, and how.
    pub(crate) fn ended(&mut self) -> Option<Result<(), Trouble>> {
        let status = self.child.try_wait().ok().flatten()?;
        let refused = || Trouble::Refused { call: self.said.clone(), how: ending(status) };
        Some(if status.success() { Ok(()) } else { Err(refused()) })
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // One that has ended already can't be stopped, which is what was wanted.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A program's name without its folders: what a person would type.
fn short(program: &OsStr) -> String {
    let name = Path::new(program).file_name().map_or_else(|| program.to_owned(), OsString::from);
    name.to_string_lossy().into_owned()
}

fn ending(status: ExitStatus) -> String {
    match status.code() {
        Some(code) => format!("ended with code {code}"),
        None => "was stopped by a signal".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_call_that_ends_well_gives_back_what_it_wrote() {
        assert_eq!(Call::new("echo").args(["two", "sheets"]).read().unwrap(), "two sheets\n");
    }

    #[test]
    fn words_reach_the_program_whole_and_no_shell_takes_them_apart() {
        assert_eq!(Call::new("echo").arg("$HOME; ls *").read().unwrap(), "$HOME; ls *\n");
    }

    #[test]
    fn trouble_names_the_call_its_ending_and_what_it_wrote() {
        let said = Call::new("ls").arg("no-such-folder").read().unwrap_err().to_string();
        assert!(said.starts_with("`ls no-such-folder` ended with code 2; it wrote:"), "{said}");
    }

    #[test]
    fn what_runs_aside_is_told_with_its_call_when_it_has_ended() {
        let (wrote, outcome) = Call::new("echo").arg("ridge").run_aside();
        assert_eq!(wrote, "  $ echo ridge\nridge\n");
        assert!(outcome.is_ok());
        let (wrote, outcome) = Call::new("ls").arg("no-such-folder").run_aside();
        assert!(wrote.contains("no-such-folder"), "{wrote}");
        assert!(outcome.unwrap_err().to_string().contains("ended with code 2"));
    }

    #[test]
    fn a_program_that_was_started_ends_with_its_holder() {
        let mut running = Call::new("sleep").arg("600").start().unwrap();
        assert!(running.ended().is_none());
        let id = running.child.id().to_string();
        drop(running);
        assert!(!Call::new("kill").args(["-0", id.as_str()]).works());
    }

    #[test]
    fn a_program_that_is_not_there_is_said_to_be_missing() {
        let said = Call::new("no-such-program").read().unwrap_err().to_string();
        assert!(said.contains("could not be started") && said.contains("on PATH"), "{said}");
        assert!(!Call::new("no-such-program").works());
    }
}
