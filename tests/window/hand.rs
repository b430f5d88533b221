//! What a person's hand and eye do: press what has a name, fill what has a label, read what is there.

use serde_json::{Value, json};

use crate::driver::{Element, Outcome, Page, key, wait_for};

/// Everything that can be pressed.
const PRESSED: &str = "button, a[href], summary, [role=option], label";

/// Finds the control of the first label that is seen and begins so, as an expression of the page's language.
fn under(label: &str) -> String {
    format!(
        "([...document.querySelectorAll('label')].find((each) => each.checkVisibility() && \
         each.innerText.replace(/\\s+/g, ' ').trim().toLowerCase().startsWith({}.toLowerCase()))?.control ?? null)",
        json!(label)
    )
}

impl Page {
    /// Presses what is called so: its label for those who hear it, or else its words, from their beginning. What is
    /// read above it may move it or draw it anew between the look and the press: when it did not feel the press, it is
    /// looked for and pressed again.
    pub(crate) fn press_named(&self, name: &str) -> Outcome<()> {
        wait_for(&format!("“{name}” to feel the press"), || {
            let element = self.named(PRESSED, name)?;
            let watched = self.run_on(
                &element,
                "window.feltPress = false; arguments[0].addEventListener('click', () => { window.feltPress = true; }, \
                 { capture: true, once: true });",
            );
            if watched.and_then(|_| self.press(&element)).is_err() {
                return Ok(None);
            }
            // A page that was left by the press knows nothing of it.
            Ok((self.run("done(window.feltPress !== false);")? == true).then_some(()))
        })
    }

    /// What is seen and called so.
    pub(crate) fn named(&self, selector: &str, name: &str) -> Outcome<Element> {
        let script = format!(
            "const wanted = {name}.toLowerCase(); \
             const nameOf = (each) => (each.getAttribute('aria-label') ?? \
             each.innerText).replace(/\\s+/g, ' ').trim().toLowerCase(); const within = \
             document.querySelector('dialog[open]') ?? document; const all = \
             [...within.querySelectorAll({selector})].filter((each) => each.checkVisibility() && !each.disabled); \
             const found = all.find((each) => nameOf(each) === wanted) ?? all.find((each) => \
             nameOf(each).startsWith(wanted)) ?? null; \
             found?.scrollIntoView({{ block: 'center' }}); return found;",
            name = json!(name),
            selector = json!(selector),
        );
        self.find_by(&format!("“{name}” to press"), &script)
    }

    /// The control under a label.
    pub(crate) fn field(&self, label: &str) -> Outcome<Element> {
        self.find_by(&format!("a field “{label}”"), &format!("return {};", under(label)))
    }

    /// Types into the field of this label, over what stands there.
    pub(crate) fn fill(&self, label: &str, text: &str) -> Outcome<()> {
        let field = self.field(label)?;
        let script = format!("const field = {}; field.focus(); field.select?.(); done(true);", under(label));
        self.run(&script)?;
        self.type_into(&field, text)
    }

    /// Chooses in the list of this label the first choice that begins so.
    pub(crate) fn choose(&self, label: &str, choice: &str) -> Outcome<()> {
        self.field(label)?;
        let chosen = self.run(&format!(
            "const list = {list}; const choice = [...list.options].find((each) => each.text.startsWith({choice})); \
             if (choice) {{ list.value = choice.value; for (const told of ['input', 'change']) \
             list.dispatchEvent(new Event(told, {{ bubbles: true }})); }} done(Boolean(choice));",
            list = under(label),
            choice = json!(choice),
        ))?;
        if chosen == true {
            Ok(())
        } else {
            Err(format!("“{label}” has no choice “{choice}”.").into())
        }
    }

    /// What stands in the field of this label.
    pub(crate) fn value_of(&self, label: &str) -> Outcome<String> {
        self.field(label)?;
        let value = self.run(&format!("done({}.value);", under(label)))?;
        Ok(value.as_str().unwrap_or_default().to_owned())
    }

    /// Waits until these words are somewhere on the page.
    pub(crate) fn wait_for_words(&self, words: &str) -> Outcome<()> {
        let script = format!(
            "document.body.innerText.replace(/\\s+/g, ' ').toLowerCase().includes({}.toLowerCase())",
            json!(words)
        );
        self.wait_until(&format!("the words “{words}”"), &script)
    }

    /// Waits until the page's heading begins so.
    pub(crate) fn wait_for_heading(&self, words: &str) -> Outcome<()> {
        let script = format!("document.querySelector('h1')?.innerText.startsWith({})", json!(words));
        self.wait_until(&format!("the heading “{words}”"), &script)
    }

    /// Waits until the year's jobs are listed.
    pub(crate) fn wait_for_jobs(&self) -> Outcome<()> {
        self.wait_until("the list of jobs", "document.querySelector('.jobs [role=option]')")
    }

    /// Goes to an address of the page.
    pub(crate) fn go(&self, address: &str) -> Outcome<()> {
        self.run(&format!("location.hash = {}; done(true);", json!(address))).map(|_| ())
    }

    /// Asks the program for something past the page, as a page that had been tampered with would. What is refused
    /// comes back as its code.
    pub(crate) fn invoke(&self, name: &str, takes: &Value) -> Outcome<Result<Value, String>> {
        let answer = self.run(&format!(
            "window.__TAURI_INTERNALS__.invoke({name}, {takes}).then((answer) => done({{ answer }}), \
             (error) => done({{ refused: error?.code ?? String(error) }}));",
            name = json!(name),
        ))?;
        Ok(match answer["refused"].as_str() {
            Some(code) => Err(code.to_owned()),
            None => Ok(answer["answer"].clone()),
        })
    }

    /// As [`Page::invoke`], when it must be answered.
    pub(crate) fn ask(&self, name: &str, takes: &Value) -> Outcome<Value> {
        self.invoke(name, takes)?.map_err(|code| format!("“{name}” was refused: {code}").into())
    }

    /// Opens the made-up firm and stands before its jobs, as the owner.
    pub(crate) fn open_the_made_up_firm(&self) -> Outcome<()> {
        self.press_named("Look at the made-up firm")?;
        self.wait_for_jobs()
    }

    /// Sits the first person of a role down, and waits until the page is where their work begins or asks for the PIN:
    /// whoever went elsewhere before that would be fetched back.
    pub(crate) fn sit_down_as(&self, role: &str) -> Outcome<String> {
        let people = self.ask("people", &json!({}))?;
        let person = people.as_array().and_then(|people| people.iter().find(|person| person["role"] == role));
        let name =
            person.and_then(|person| person["name"].as_str()).ok_or("There is nobody of that role.")?;
        if self.all("section[aria-labelledby=who]")?.is_empty() {
            self.strike_with(key::ALT, "w")?;
        }
        self.press_named(name)?;
        self.wait_until(
            "the person to be seated",
            "!document.querySelector('section[aria-labelledby=who]') \
             || document.querySelector('section[aria-labelledby=who] input[type=password]')",
        )?;
        Ok(name.to_owned())
    }

    /// Opens a job by typing its number into the search.
    pub(crate) fn open_job(&self, number: &str) -> Outcome<()> {
        self.wait_for_jobs()?;
        self.strike(&["/"])?;
        self.fill("Search", number)?;
        self.strike(&[key::ENTER])?;
        self.wait_until("the job", "document.querySelector('#part-contract')")
    }
}
