//! How names are compared: without accents, case and punctuation, the same on every database.

use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

/// Small letters and figures in words joined by one space: `Zoë  Ó’Brien-Łuk` is `zoe obrien luk`.
pub(super) fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    let letters = text
        .nfkd()
        .filter(|letter| !is_combining_mark(*letter))
        .flat_map(char::to_lowercase);
    for letter in letters {
        match spelled(letter) {
            Some(letters) => folded.push_str(letters),
            None if letter.is_alphanumeric() => folded.push(letter),
            None if is_apostrophe(letter) => {}
            None => {
                if !folded.ends_with(' ') {
                    folded.push(' ');
                }
            }
        }
    }
    folded.trim().to_owned()
}

/// Letters that no decomposition turns into plain ones.
fn spelled(letter: char) -> Option<&'static str> {
    Some(match letter {
        'ø' | 'ɔ' => "o",
        'ł' => "l",
        'đ' | 'ð' | 'ɖ' | 'ɗ' => "d",
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'þ' => "th",
        'ı' => "i",
        'ħ' => "h",
        'ŧ' => "t",
        'ŋ' => "n",
        'ɓ' => "b",
        'ƙ' => "k",
        'ɛ' => "e",
        'ə' | 'ǝ' => "a",
        _ => return None,
    })
}

/// Inside a name they are written by one and left out by the next.
fn is_apostrophe(letter: char) -> bool {
    "'’‘ʼʻ`´".contains(letter)
}

/// The figures of a telephone number; absent without any.
pub(super) fn digits(text: &str) -> Option<String> {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    (!digits.is_empty()).then_some(digits)
}

/// Each word once.
pub(super) fn words(folded: &[&str]) -> Vec<String> {
    let mut words: Vec<String> = folded
        .iter()
        .flat_map(|text| text.split(' '))
        .map(str::to_owned)
        .collect();
    words.retain(|word| !word.is_empty());
    words.sort_unstable();
    words.dedup();
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_case_and_punctuation_make_no_other_name() {
        for (typed, compared) in [
            ("Zoë  Ó’Brien-Łuk", "zoe obrien luk"),
            ("ZOE O'BRIEN LUK", "zoe obrien luk"),
            ("Søren Weiß", "soren weiss"),
            ("Đặng Thị", "dang thi"),
            ("Ngũgĩ wa’", "ngugi wa"),
            ("İpek Işık", "ipek isik"),
            ("ﬁne ½", "fine 1 2"),
            (" - ", ""),
            ("Ольга Ё", "ольга е"),
        ] {
            assert_eq!(folded(typed), compared, "{typed}");
        }
    }

    #[test]
    fn a_telephone_is_its_figures() {
        assert_eq!(
            digits("+000 555-01 72 (sister)").as_deref(),
            Some("0005550172")
        );
        assert_eq!(digits("none"), None);
    }
}
