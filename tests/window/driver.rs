//! The few words of the W3C WebDriver protocol that the tests need, spoken to the system's own driver of web views.

use std::error::Error;
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};

/// What a test or a helper hands back; a failure carries a sentence.
pub(crate) type Outcome<T> = Result<T, Box<dyn Error>>;

/// The name under which the protocol hands out an element's id.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// The last resort of a test that waits: far beyond what the slowest machine needs, so that it never decides.
const PATIENCE: Duration = Duration::from_secs(180);

/// Lets an unseen spot of the page be drawn again and again.
const STIR: &str = "
    const spot = document.body.appendChild(document.createElement('i'));
    spot.style.cssText = 'position: fixed; inset: 0 auto auto 0; width: 1px; height: 1px; pointer-events: none';
    let odd = false;
    const timer = setInterval(() => {
        odd = !odd;
        spot.style.backgroundColor = odd ? 'rgb(0 0 0 / 0.1%)' : 'rgb(0 0 0 / 0.2%)';
    }, 30);
    window.still = () => {
        clearInterval(timer);
        spot.remove();
    };
    done()";

/// Takes back what [`STIR`] did.
const STILL: &str = "window.still?.(); done()";

/// Keys that are no letter, by the numbers that the protocol gives them.
pub(crate) mod key {
    pub(crate) const TAB: &str = "\u{e004}";
    pub(crate) const ENTER: &str = "\u{e007}";
    pub(crate) const ALT: &str = "\u{e00a}";
    pub(crate) const ESCAPE: &str = "\u{e00c}";
    pub(crate) const CONTROL: &str = "\u{e009}";
    pub(crate) const LEFT: &str = "\u{e012}";
    pub(crate) const UP: &str = "\u{e013}";
    pub(crate) const RIGHT: &str = "\u{e014}";
    pub(crate) const DOWN: &str = "\u{e015}";
}

/// A page under a driver.
pub(crate) struct Page {
    agent: ureq::Agent,
    session: String,
}

/// Something on the page.
#[derive(Clone)]
pub(crate) struct Element(String);

impl Page {
    /// Asks the driver at `base` to start the program with these words and hand over its page.
    pub(crate) fn open(base: &str, program: &str, words: &[String]) -> Outcome<Self> {
        let options = json!({ "application": program, "args": words });
        let wanted = json!({ "capabilities": { "alwaysMatch": { "tauri:options": options } } });
        let opened = ask(&agent(PATIENCE), "POST", &format!("{base}/session"), &wanted)?;
        let id = opened["sessionId"].as_str().ok_or("The driver opened a session without an id.")?;
        let agent = agent(2 * PATIENCE);
        Ok(Self { agent, session: format!("{base}/session/{id}") })
    }

    /// The first element that the selector finds, waited for.
    pub(crate) fn find(&self, selector: &str) -> Outcome<Element> {
        self.wait_for(&format!("an element {selector}"), || Ok(self.all(selector)?.into_iter().next()))
    }

    /// All that the selector finds now.
    pub(crate) fn all(&self, selector: &str) -> Outcome<Vec<Element>> {
        let found = self.post("elements", &json!({ "using": "css selector", "value": selector }))?;
        let found = found.as_array().ok_or("The driver answered a search with no list.")?;
        Ok(found.iter().filter_map(|each| each[ELEMENT].as_str()).map(|id| Element(id.to_owned())).collect())
    }

    /// The words of an element, as they are seen.
    pub(crate) fn text(&self, element: &Element) -> Outcome<String> {
        let said =
            ask(&self.agent, "GET", &format!("{}/element/{}/text", self.session, element.0), &Value::Null)?;
        Ok(said.as_str().unwrap_or_default().trim().to_owned())
    }

    /// Waits until an element has these words.
    pub(crate) fn wait_for_text(&self, selector: &str, words: &str) -> Outcome<()> {
        self.wait_for(&format!("“{words}” in {selector}"), || {
            let Some(element) = self.all(selector)?.into_iter().next() else { return Ok(None) };
            // An element may be gone by the time it is asked: then it is looked for again.
            Ok(self.text(&element).ok().filter(|text| text == words).map(|_| ()))
        })
    }

    /// Presses an element, as a mouse or a finger does.
    pub(crate) fn press(&self, element: &Element) -> Outcome<()> {
        self.post(&format!("element/{}/click", element.0), &json!({})).map(|_| ())
    }

    /// Strikes one key after another, wherever the focus is.
    pub(crate) fn strike(&self, keys: &[&str]) -> Outcome<()> {
        let strokes: Vec<Value> = keys
            .iter()
            .flat_map(|key| {
                [json!({ "type": "keyDown", "value": key }), json!({ "type": "keyUp", "value": key })]
            })
            .collect();
        self.act(&strokes)
    }

    /// Strikes a key while another is held.
    pub(crate) fn strike_with(&self, held: &str, key: &str) -> Outcome<()> {
        self.act(&[
            json!({ "type": "keyDown", "value": held }),
            json!({ "type": "keyDown", "value": key }),
            json!({ "type": "keyUp", "value": key }),
            json!({ "type": "keyUp", "value": held }),
        ])
    }

    /// Runs a script in the page; it hands its answer to the function `done`.
    pub(crate) fn run(&self, script: &str) -> Outcome<Value> {
        let script = format!("const done = arguments[arguments.length - 1];\n{script}");
        self.post("execute/async", &json!({ "script": script, "args": [] }))
    }

    /// Runs a script on an element, which is its first argument.
    pub(crate) fn run_on(&self, element: &Element, script: &str) -> Outcome<Value> {
        self.post("execute/sync", &json!({ "script": script, "args": [{ ELEMENT: element.0 }] }))
    }

    /// What a script finds, waited for; it hands nothing while there is nothing yet.
    pub(crate) fn find_by(&self, what: &str, script: &str) -> Outcome<Element> {
        self.wait_for(what, || {
            let body = json!({ "script": script, "args": [] });
            let found = self.post("execute/sync", &body)?;
            Ok(found[ELEMENT].as_str().map(|id| Element(id.to_owned())))
        })
    }

    /// Types into an element as on a keyboard.
    pub(crate) fn type_into(&self, element: &Element, text: &str) -> Outcome<()> {
        self.post(&format!("element/{}/value", element.0), &json!({ "text": text })).map(|_| ())
    }

    /// Draws a line over an element with the button held, from its middle, by these steps in pixels.
    pub(crate) fn draw_over(&self, element: &Element, steps: &[(i32, i32)]) -> Outcome<()> {
        let origin = json!({ ELEMENT: element.0 });
        let mut strokes = vec![
            json!({ "type": "pointerMove", "duration": 0, "x": 0, "y": 0, "origin": origin }),
            json!({ "type": "pointerDown", "button": 0 }),
        ];
        strokes.extend(steps.iter().map(
            |(x, y)| json!({ "type": "pointerMove", "duration": 20, "x": x, "y": y, "origin": "pointer" }),
        ));
        strokes.push(json!({ "type": "pointerUp", "button": 0 }));
        let actions = json!({ "actions": [{
            "type": "pointer", "id": "hand", "parameters": { "pointerType": "mouse" }, "actions": strokes,
        }] });
        self.post("actions", &actions).map(|_| ())
    }

    /// Makes the window as large as this, in pixels.
    pub(crate) fn resize(&self, width: u32, height: u32) -> Outcome<()> {
        self.post("window/rect", &json!({ "x": 0, "y": 0, "width": width, "height": height })).map(|_| ())
    }

    /// Waits until something is so.
    pub(crate) fn wait_until(&self, what: &str, script: &str) -> Outcome<()> {
        let waited = self.wait_for(what, || {
            let body = json!({ "script": format!("return Boolean({script})"), "args": [] });
            Ok(self.post("execute/sync", &body)?.as_bool().unwrap_or_default().then_some(()))
        });
        match waited {
            Ok(()) => Ok(()),
            Err(error) => Err(format!("{error} The page says: {}", self.words()?).into()),
        }
    }

    /// The beginning of what the page says now.
    fn words(&self) -> Outcome<String> {
        let words = self.run("done(document.body.innerText.replace(/\\s+/g, ' ').slice(0, 900))")?;
        Ok(words.as_str().unwrap_or_default().to_owned())
    }

    /// How many windows there are.
    pub(crate) fn windows(&self) -> Outcome<usize> {
        let handles = ask(&self.agent, "GET", &format!("{}/window/handles", self.session), &Value::Null)?;
        Ok(handles.as_array().map_or(0, Vec::len))
    }

    /// The page as it is seen, as a PNG.
    pub(crate) fn picture(&self) -> Outcome<Vec<u8>> {
        // The driver waits until the page is next drawn, which a page that stands still never is.
        self.run(STIR)?;
        let answer = ask(&self.agent, "GET", &format!("{}/screenshot", self.session), &Value::Null)?;
        self.run(STILL)?;
        Ok(STANDARD.decode(answer.as_str().ok_or("The driver answered a picture with no text.")?)?)
    }

    /// Ends the session, and with it the program.
    pub(crate) fn close(&self) -> Outcome<()> {
        ask(&self.agent, "DELETE", &self.session, &Value::Null).map(|_| ())
    }

    fn act(&self, strokes: &[Value]) -> Outcome<()> {
        let actions = json!({ "actions": [{ "type": "key", "id": "keys", "actions": strokes }] });
        self.post("actions", &actions).map(|_| ())
    }

    fn post(&self, what: &str, body: &Value) -> Outcome<Value> {
        ask(&self.agent, "POST", &format!("{}/{what}", self.session), body)
    }

    fn wait_for<T>(&self, what: &str, look: impl Fn() -> Outcome<Option<T>>) -> Outcome<T> {
        wait_for(what, look)
    }
}

/// Looks again and again until there is something, or patience is at its end.
pub(crate) fn wait_for<T>(what: &str, mut look: impl FnMut() -> Outcome<Option<T>>) -> Outcome<T> {
    let begun = Instant::now();
    loop {
        if let Some(found) = look()? {
            return Ok(found);
        }
        if begun.elapsed() > PATIENCE {
            return Err(format!("Waited {} s for {what} in vain.", PATIENCE.as_secs()).into());
        }
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// Whether a driver listens there.
pub(crate) fn is_ready(base: &str) -> bool {
    ask(&agent(PATIENCE), "GET", &format!("{base}/status"), &Value::Null).is_ok()
}

fn agent(patience: Duration) -> ureq::Agent {
    // An error has a body that says what is wrong, which would be lost if the status alone were the error.
    let settings = ureq::Agent::config_builder().http_status_as_error(false).proxy(None);
    settings.timeout_global(Some(patience)).build().into()
}

fn ask(agent: &ureq::Agent, method: &str, address: &str, body: &Value) -> Outcome<Value> {
    let mut answer = match method {
        "GET" => agent.get(address).call()?,
        "DELETE" => agent.delete(address).call()?,
        _ => agent.post(address).send_json(body)?,
    };
    let said: Value = answer.body_mut().with_config().limit(64 << 20).read_json()?;
    let value = &said["value"];
    if answer.status().is_success() {
        return Ok(value.clone());
    }
    Err(format!("The driver refused {method} {address}: {} ({})", value["message"], value["error"]).into())
}
