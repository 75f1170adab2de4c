//! The rules page shows the table that judges, whole.

use brimline::clinical;

use crate::harness::Post;

#[test]
fn every_rule_stands_once_under_its_category_with_mark_and_source() {
    let post = Post::of_the_demo();
    let page = post.sign_in("nurse").get("/rules");
    let rules: Vec<_> = clinical::rules().collect();
    assert_eq!(page.count("table.rules tbody tr"), rules.len());
    for rule in rules {
        let at = format!(
            "details[id='{}'] tr[id='{}']",
            rule.category.code(),
            rule.code
        );
        assert_eq!(page.count(&at), 1, "{}", rule.code);
        assert_eq!(
            page.count(&format!("{at} .urgency")),
            rule.urgencies.len(),
            "{}",
            rule.code
        );
        for (edge, shown) in rule
            .edges
            .iter()
            .zip(page.all(&format!("{at} .edges > small ~ small")))
        {
            let words: String = shown.text().collect();
            let (just, not_quite) = words.split_once(" not: ").unwrap_or_default();
            assert_eq!(
                just,
                format!("{}: {}", edge.urgency.words(), edge.just_words),
                "{}",
                rule.code
            );
            assert_eq!(not_quite, edge.not_quite_words, "{}", rule.code);
        }
        assert_eq!(
            page.count(&format!("{at} .edges > small ~ small")),
            rule.edges.len(),
            "{}",
            rule.code
        );
        assert!(page.text(&at).contains(rule.when), "{}", rule.code);
        assert_eq!(
            page.count(&format!("{at} .sources li")),
            rule.sources.len(),
            "{}",
            rule.code
        );
    }
}

#[test]
fn one_category_is_open_and_all_to_print() {
    let post = Post::of_the_demo();
    let keeper = post.sign_in("keeper");
    assert_eq!(keeper.get("/rules").count("details.volume[open]"), 1);
    let all = keeper.get("/rules?all=1");
    assert_eq!(
        all.count("details.volume[open]"),
        all.count("details.volume")
    );
    assert!(!all.has("a[href='/rules?all=1']"));
}
