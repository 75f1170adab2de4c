//! One answer of the server, with what must hold on every page checked when it is opened.

use scraper::{ElementRef, Html, Selector};

/// A page, or whatever else came.
#[must_use]
pub(crate) struct Page {
    /// Method and address asked for.
    pub(crate) at: String,
    pub(crate) status: u16,
    pub(crate) body: String,
    headers: Vec<(String, String)>,
    html: Html,
}

impl Page {
    #[track_caller]
    pub(crate) fn new(
        at: String,
        status: u16,
        headers: Vec<(String, String)>,
        body: String,
    ) -> Self {
        let page = Self {
            html: Html::parse_document(&body),
            at,
            status,
            body,
            headers,
        };
        if page.header("content-type").starts_with("text/html") && !page.body.is_empty() {
            page.holds_together();
        }
        page
    }

    /// What must hold on every page of ours, an error page too.
    #[track_caller]
    fn holds_together(&self) {
        let at = &self.at;
        for once in ["html[lang]", "head > title", "h1", "main"] {
            assert_eq!(self.count(once), 1, "{at}: not one {once}");
        }
        assert_eq!(
            self.count("[style], style, script:not([src]), [onclick]"),
            0,
            "{at}: inline style or script"
        );
        let beside = self.count("main p.wrong");
        let summed = self.count("main .errors li a");
        assert_eq!(
            beside, summed,
            "{at}: faults beside fields and in the summary"
        );
        for link in self.all("main .errors li a") {
            let target = link.attr("href").unwrap_or_default();
            assert_eq!(self.count(target), 1, "{at}: {target} lands nowhere");
        }
        if summed > 0 {
            assert!(
                (400..500).contains(&self.status),
                "{at}: {} with faults",
                self.status
            );
        }
        let mut ids: Vec<_> = self
            .all("[id]")
            .map(|it| it.attr("id").unwrap_or_default())
            .collect();
        ids.sort_unstable();
        for pair in ids.windows(2) {
            assert_ne!(pair[0], pair[1], "{at}: an id twice");
        }
        for form in self.all("form[method=post]") {
            let token = Selector::parse("input[name=token]").unwrap();
            assert_eq!(
                form.select(&token).count(),
                1,
                "{at}: a form without its token"
            );
        }
    }

    /// A header of the answer, or empty.
    pub(crate) fn header(&self, name: &str) -> &str {
        let found = self.headers.iter().find(|(it, _)| it == name);
        found.map(|(_, value)| value.as_str()).unwrap_or_default()
    }

    /// Every header of this name.
    pub(crate) fn every_header(&self, name: &str) -> Vec<&str> {
        let named = self.headers.iter().filter(|(it, _)| it == name);
        named.map(|(_, value)| value.as_str()).collect()
    }

    #[track_caller]
    pub(crate) fn all<'a>(&'a self, selector: &str) -> impl Iterator<Item = ElementRef<'a>> {
        let selector = Selector::parse(selector).unwrap();
        self.html.select(&selector).collect::<Vec<_>>().into_iter()
    }

    #[track_caller]
    pub(crate) fn count(&self, selector: &str) -> usize {
        self.all(selector).count()
    }

    #[track_caller]
    pub(crate) fn has(&self, selector: &str) -> bool {
        self.count(selector) > 0
    }

    /// The one element that fits.
    #[track_caller]
    pub(crate) fn find(&self, selector: &str) -> ElementRef<'_> {
        let mut found = self.all(selector);
        let first = found.next();
        first.unwrap_or_else(|| {
            panic!(
                "{} ({}): no {selector}\n{}",
                self.at,
                self.status,
                self.words()
            )
        })
    }

    /// Its words, white space and no-break spaces made one space each.
    #[track_caller]
    pub(crate) fn text(&self, selector: &str) -> String {
        plain(&self.find(selector).text().collect::<String>())
    }

    /// The words of the whole page.
    pub(crate) fn words(&self) -> String {
        plain(
            &self
                .html
                .root_element()
                .text()
                .collect::<Vec<_>>()
                .join(" "),
        )
    }

    /// The form that is posted and asks all of these; with none, the first of the page.
    #[track_caller]
    pub(crate) fn form_asking(&self, names: &[&str]) -> ElementRef<'_> {
        let asks = |form: &ElementRef<'_>| {
            names.iter().all(|name| {
                let question = Selector::parse(&format!("[name='{name}']")).unwrap();
                form.select(&question).next().is_some()
            })
        };
        let mut forms = self.all("main form[method=post]").filter(asks);
        forms
            .next()
            .unwrap_or_else(|| panic!("{}: no form asks {names:?}\n{}", self.at, self.words()))
    }
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// What a browser would send of a form that nobody touched.
pub(crate) fn values_already_in(form: &ElementRef<'_>) -> Vec<(String, String)> {
    let fields = Selector::parse("input[name], textarea[name], select[name]").unwrap();
    let chosen = Selector::parse("option[selected]").unwrap();
    let first = Selector::parse("option").unwrap();
    let mut values = Vec::new();
    for field in form.select(&fields) {
        let name = field.attr("name").unwrap_or_default().to_owned();
        let value = match (field.value().name(), field.attr("type").unwrap_or("text")) {
            ("input", "radio" | "checkbox") if field.attr("checked").is_none() => continue,
            ("input", "submit" | "button") => continue,
            ("input", "radio" | "checkbox") => field.attr("value").unwrap_or("on").to_owned(),
            ("textarea", _) => field
                .text()
                .collect::<String>()
                .trim_start_matches('\n')
                .to_owned(),
            ("select", _) => {
                let option = field
                    .select(&chosen)
                    .next()
                    .or_else(|| field.select(&first).next());
                option
                    .and_then(|it| it.attr("value"))
                    .unwrap_or_default()
                    .to_owned()
            }
            _ => field.attr("value").unwrap_or_default().to_owned(),
        };
        values.push((name, value));
    }
    values
}
