//! Somebody at a screen: a browser that looks at every page it comes to.

use std::cell::Cell;
use std::path::PathBuf;
use std::time::Duration;

use fantoccini::elements::Element;
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};

use crate::district::PASSWORD;
use crate::driver::Driver;

/// Width of a small phone, CSS pixels.
pub(crate) const PHONE: u32 = 360;
/// Height of the same phone.
pub(crate) const PHONE_HEIGHT: u32 = 740;
/// Width of an old laptop.
pub(crate) const DESK: u32 = 1280;

const FLAGS: &str = "--headless=new --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
    --disable-component-update --disable-sync --disable-dev-shm-usage";

/// Whether the browser runs the script that a page brings; what the tests ask of it runs either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scripts {
    On,
    Off,
}

pub(crate) struct Screen<'a> {
    driver: &'a Driver,
    pages: &'a str,
    pub(crate) client: Client,
    pub(crate) width: u32,
    pub(crate) scripts: Scripts,
    /// How many pages were looked at.
    looked: Cell<usize>,
    own: tempfile::TempDir,
}

impl<'a> Screen<'a> {
    /// A browser of its own, with nothing in it.
    pub(crate) async fn at(
        driver: &'a Driver,
        pages: &'a str,
        width: u32,
        scripts: Scripts,
    ) -> Self {
        let own = tempfile::tempdir().unwrap();
        let mut args: Vec<String> = FLAGS.split_whitespace().map(str::to_owned).collect();
        args.push(format!(
            "--user-data-dir={}",
            own.path().join("profile").display()
        ));
        args.push(format!("--window-size={width},900"));
        let mut options = json!({
            "args": args,
            "prefs": {
                "profile.managed_default_content_settings.javascript": if scripts == Scripts::On { 1 } else { 2 },
                "download.default_directory": own.path().join("files"),
                "download.prompt_for_download": false,
            },
        });
        if width == PHONE {
            options["mobileEmulation"] = json!({ "deviceMetrics": {
                "width": width, "height": PHONE_HEIGHT, "pixelRatio": 2.0, "touch": true, "mobile": true,
            } });
        }
        if driver.chromium != "google-chrome" {
            options["binary"] = json!(on_the_path(driver.chromium));
        }
        let mut wishes = Capabilities::new();
        wishes.insert("goog:chromeOptions".into(), options);
        wishes.insert("unhandledPromptBehavior".into(), json!("accept"));
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(wishes)
            .connect(&driver.address)
            .await
            .unwrap();
        let screen = Self {
            driver,
            pages,
            client,
            width,
            scripts,
            looked: Cell::default(),
            own,
        };
        screen.scripts_are_as_asked().await;
        screen
    }

    async fn scripts_are_as_asked(&self) {
        let page = "data:text/html,<title>Off</title><script>document.title='On'</script>";
        self.client.goto(page).await.unwrap();
        let title = self.client.title().await.unwrap();
        assert_eq!(title, format!("{:?}", self.scripts), "scripts of a page");
    }

    /// An order in the browser's own protocol.
    pub(crate) async fn order(&self, command: &str, parameters: Value) {
        let session = self.client.session_id().await.unwrap().unwrap();
        let address = format!("{}/session/{session}/goog/cdp/execute", self.driver.address);
        let body = json!({ "cmd": command, "params": parameters }).to_string();
        let sent = ureq::post(address)
            .header("content-type", "application/json")
            .send(body);
        sent.unwrap();
    }

    /// Opens an address and looks at the page.
    pub(crate) async fn open(&self, path: &str) {
        let address = format!("{}{path}", self.pages);
        self.client.goto(&address).await.unwrap();
        self.look().await;
    }

    /// Signs in; ends on Today.
    pub(crate) async fn sign_in(&self, name: &str) {
        self.open("/sign-in").await;
        self.write("name", name).await;
        self.write("password", PASSWORD).await;
        self.press("main form .actions button").await;
        assert_eq!(self.path().await, "/", "{name} is not led to Today");
        assert_eq!(self.text("h1").await, "Today");
    }

    /// Goes to a page of the navigation, which a phone folds behind a button.
    pub(crate) async fn go(&self, words: &str) {
        let button = self.find(".pages-button").await;
        assert_eq!(button.is_displayed().await.unwrap(), self.width == PHONE);
        if self.width == PHONE {
            button.click().await.unwrap();
            self.look().await;
        }
        let link = format!("//nav[@id='pages']//a[normalize-space()='{words}']");
        let link = self.client.find(Locator::XPath(&link)).await.unwrap();
        self.follow(link).await;
    }

    /// Types into the field of that name, over what stands there.
    pub(crate) async fn write(&self, field: &str, text: &str) {
        let input = self.find(&format!("main form [name='{field}']")).await;
        if input.attr("type").await.unwrap().as_deref() == Some("date") {
            // Which keys a date box takes depends on the browser's language; what it holds does not.
            let set = "arguments[0].value = arguments[1]";
            let args = vec![serde_json::to_value(&input).unwrap(), json!(text)];
            self.client.execute(set, args).await.unwrap();
        } else {
            input.clear().await.unwrap();
            input.send_keys(text).await.unwrap();
        }
    }

    /// The row that a thumb hits for this choice.
    pub(crate) async fn row_of(&self, field: &str, code: &str) -> Element {
        let row = format!("//main//form//label[.//input[@name='{field}' and @value='{code}']]");
        let Ok(row) = self.client.find(Locator::XPath(&row)).await else {
            panic!("{}: no choice {field}={code}", self.place().await);
        };
        row
    }

    pub(crate) async fn choose(&self, field: &str, code: &str) {
        self.row_of(field, code).await.click().await.unwrap();
        let chosen = format!("main form [name='{field}'][value='{code}']:checked");
        self.find(&chosen).await;
    }

    /// Follows or sends what the selector names, and looks at the page that comes.
    pub(crate) async fn press(&self, selector: &str) {
        let what = self.find(selector).await;
        self.follow(what).await;
    }

    async fn follow(&self, what: Element) {
        let before = self.find("html").await;
        what.click().await.unwrap();
        self.until_gone(&before).await;
        self.look().await;
    }

    /// Waits until another page has taken the place of this one.
    pub(crate) async fn until_gone(&self, page: &Element) {
        for _ in 0..200 {
            if page.tag_name().await.is_err() {
                let wait = self.client.wait().for_element(Locator::Css("footer"));
                wait.await.unwrap();
                return;
            }
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
        panic!("{}: nothing came after it was pressed", self.place().await);
    }

    pub(crate) async fn find(&self, selector: &str) -> Element {
        let Ok(found) = self.client.find(Locator::Css(selector)).await else {
            panic!("{}: no {selector}", self.place().await);
        };
        found
    }

    pub(crate) async fn count(&self, selector: &str) -> usize {
        let found = self.client.find_all(Locator::Css(selector)).await;
        found.unwrap().len()
    }

    pub(crate) async fn text(&self, selector: &str) -> String {
        self.find(selector).await.text().await.unwrap()
    }

    /// What the field of that name holds now.
    pub(crate) async fn held(&self, field: &str) -> String {
        let input = self.find(&format!("main form [name='{field}']")).await;
        input.prop("value").await.unwrap().unwrap()
    }

    pub(crate) async fn path(&self) -> String {
        self.client.current_url().await.unwrap().path().to_owned()
    }

    /// A number that the page tells of itself.
    pub(crate) async fn number(&self, script: &str) -> f64 {
        let script = format!("return {script}");
        let told = self.client.execute(&script, vec![]);
        told.await.unwrap().as_f64().unwrap()
    }

    pub(crate) async fn place(&self) -> String {
        let (width, scripts) = (self.width, self.scripts);
        let address = self.client.current_url().await.unwrap();
        format!("{address} at {width} px, scripts {scripts:?}")
    }

    /// What must hold on every page: one heading, its place in the title, nothing too wide, no fault for the checker.
    pub(crate) async fn look(&self) {
        let at = self.place().await;
        assert_eq!(
            self.count("h1").await,
            1,
            "{at}: headings of the first order"
        );
        let title = self.client.title().await.unwrap();
        assert!(title.ends_with("Brimline"), "{at}: the title is {title:?}");
        let width = self.number("innerWidth").await;
        assert!(
            (width - f64::from(self.width)).abs() < 1.0,
            "{at}: the window is {width} px wide"
        );
        let faults = self.faults().await;
        assert!(faults.is_empty(), "{at}:\n{}", faults.join("\n"));
        self.looked.set(self.looked.get() + 1);
    }

    /// How many pages were looked at.
    pub(crate) fn looked_at(&self) -> usize {
        self.looked.get()
    }

    /// Whether a summary of faults took the focus, and each of its links leads to its field.
    pub(crate) async fn is_told_what_is_wrong(&self, field: &str) {
        let at = self.place().await;
        let focused = self.client.active_element().await.unwrap();
        let focused = focused.attr("id").await.unwrap();
        assert_eq!(
            focused.as_deref(),
            Some("errors"),
            "{at}: where the focus is"
        );
        let link = self.find(&format!(".errors a[href='#{field}']")).await;
        link.click().await.unwrap();
        let focused = self.client.active_element().await.unwrap();
        let focused = focused.attr("id").await.unwrap();
        assert_eq!(
            focused.as_deref(),
            Some(field),
            "{at}: where the link leads"
        );
    }

    /// Waits for a file to be loaded down whole, and takes it.
    pub(crate) async fn file(&self, name: &str) -> Vec<u8> {
        let file: PathBuf = self.own.path().join("files").join(name);
        for _ in 0..200 {
            if let Ok(bytes) = std::fs::read(&file)
                && !bytes.is_empty()
            {
                return bytes;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        let there: Vec<_> = std::fs::read_dir(self.own.path().join("files"))
            .map(|files| files.map(|it| it.unwrap().file_name()).collect())
            .unwrap_or_default();
        panic!("{}: no file {name}, only {there:?}", self.place().await);
    }

    pub(crate) async fn leave(self) {
        self.client.close().await.unwrap();
    }
}

fn on_the_path(program: &str) -> PathBuf {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let mut places = std::env::split_paths(&path).map(|folder| folder.join(program));
    places.find(|it| it.exists()).unwrap()
}
