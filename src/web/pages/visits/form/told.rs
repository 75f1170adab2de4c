//! What she says: movements, waters, danger signs, labour; one tap for “all asked, all clear”.

use super::Shape;
use super::hands::{code, given};
use crate::clinical::{DangerSign, Day, Moment, Movements, Waters};
use crate::registry::visits::Findings;
use crate::web::form::{Asked, Choices, Field, Opt, Sense, Typed, When, parse};
use crate::web::spoken;

/// How the four questions were answered in the drawn form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::web::pages::visits) enum How {
    /// Movements as usual, waters intact, no danger sign, not in labour.
    AllClear,
    /// Each by its own field.
    Each,
}

/// The answers of the mother.
pub(crate) struct Told {
    pub(in crate::web::pages::visits) asked: Field<How>,
    pub(in crate::web::pages::visits) movements: Field<Movements>,
    pub(in crate::web::pages::visits) waters: Field<Waters>,
    pub(in crate::web::pages::visits) waters_broke: When,
    pub(in crate::web::pages::visits) danger_signs: Choices<DangerSign>,
    /// “None of these, all asked.”
    pub(in crate::web::pages::visits) no_danger_sign: bool,
    pub(in crate::web::pages::visits) in_labour: Field<bool>,
    pub(in crate::web::pages::visits) labour_began: When,
}

impl Told {
    pub(super) fn read(typed: &Typed, sense: &Sense, shape: Shape) -> Self {
        let how = [Opt::new("all-clear", ""), Opt::new("each", "")];
        let ticks: Typed = typed
            .all("danger_signs")
            .filter(|text| *text != "none")
            .map(|text| ("danger_signs", text))
            .collect();
        let movements = Field::code(typed, "movements", "Movements");
        let waters = Field::code(typed, "waters", "Waters");
        let in_labour = Field::choice(
            typed,
            "in_labour",
            "In labour?",
            &Opt::yes_no(),
            parse::yes_no,
        );
        let list = shape == Shape::List;
        let mut told = Self {
            asked: Field::choice(typed, "asked", "What she says", &how, |text| match text {
                "all-clear" => Ok(How::AllClear),
                "each" => Ok(How::Each),
                _ => Err("choose one of the answers"),
            }),
            movements: if list { movements.in_list() } else { movements },
            waters: if list { waters.in_list() } else { waters },
            waters_broke: When::read(typed, "waters_broke", "Waters broke", sense).past(sense),
            danger_signs: Choices::read(&ticks, "danger_signs", "Danger signs"),
            no_danger_sign: typed.all("danger_signs").any(|text| text == "none"),
            in_labour: if list { in_labour.in_list() } else { in_labour },
            labour_began: When::read(typed, "labour_began", "Labour began", sense).past(sense),
        };
        told.fit_together(typed);
        told
    }

    fn fit_together(&mut self, typed: &Typed) {
        let not_asked = typed.has("asked") && typed.last("asked").is_empty();
        let answered = self.answered();
        match self.asked.value {
            Some(How::AllClear) if answered => self.asked.refuse(
                "“All asked, all clear” stands beside other answers; choose “One by one”, or take the others back",
            ),
            None if not_asked && answered => self.asked.refuse(
                "“Not asked” stands beside other answers; choose “One by one”, or take the others back",
            ),
            _ => {}
        }
        if self.no_danger_sign && !self.danger_signs.typed.is_empty() {
            self.danger_signs
                .refuse("“None of these” stands beside a sign; take one of the two back");
        }
        let broken = matches!(self.waters.value, Some(Waters::Broken | Waters::BrokenFoul));
        if self.waters_broke.value.is_some() && !broken {
            self.waters_broke
                .refuse("stands without broken waters; choose “Broken”, or take the time back");
        }
        if self.labour_began.value.is_some() && self.in_labour.value != Some(true) {
            self.labour_began
                .refuse("stands without labour; choose “Yes”, or take the time back");
        }
    }

    /// Whether any of the four has an answer of its own.
    fn answered(&self) -> bool {
        let texts = [
            &self.movements.typed,
            &self.waters.typed,
            &self.in_labour.typed,
        ];
        let times = [&self.waters_broke, &self.labour_began];
        texts.iter().any(|text| !text.is_empty())
            || times
                .iter()
                .any(|it| !it.date.typed.is_empty() || !it.time.typed.is_empty())
            || self.no_danger_sign
            || !self.danger_signs.typed.is_empty()
    }

    /// Neither can be later than the visit that tells it.
    pub(super) fn not_after(&mut self, visit: Option<Moment>) {
        let Some(visit) = visit else { return };
        for (when, what) in [
            (
                &mut self.waters_broke,
                "is later than the visit; write when they broke",
            ),
            (
                &mut self.labour_began,
                "is later than the visit; write when regular pains began",
            ),
        ] {
            if when.value.is_some_and(|it| it > visit) {
                when.refuse(what);
            }
        }
    }

    /// Broken waters do not close: one tap for all must not say that they did.
    pub(super) fn asked_again(&mut self, waters_broken_since: Option<Day>) {
        if let Some(day) = waters_broken_since
            && self.asked.value == Some(How::AllClear)
        {
            self.asked.refuse(format!(
                "the waters were broken on {}; answer one by one",
                spoken::day(day)
            ));
        }
    }

    pub(super) fn fill(&self, findings: &mut Findings) {
        let visit = &mut findings.visit;
        if self.asked.value == Some(How::AllClear) {
            visit.movements = Some(Movements::Normal);
            visit.waters = Some(Waters::Intact);
            findings.signs_asked = true;
            return;
        }
        visit.movements = self.movements.value;
        visit.waters = self.waters.value;
        visit.danger_signs.clone_from(&self.danger_signs.values);
        visit.in_labour = self.in_labour.value == Some(true);
        findings.signs_asked = self.no_danger_sign;
        findings.waters_broke_at = self.waters_broke.value;
        findings.labour_began_at = self.labour_began.value;
    }

    pub(super) fn asked(&self) -> [&dyn Asked; 7] {
        [
            &self.asked,
            &self.movements,
            &self.waters,
            &self.waters_broke,
            &self.danger_signs,
            &self.in_labour,
            &self.labour_began,
        ]
    }

    pub(super) fn refuse(&mut self, name: &str, why: &str) -> bool {
        match name {
            "movements" => self.movements.refuse(why),
            "waters" => self.waters.refuse(why),
            "waters_broke_at" => self.waters_broke.refuse(why),
            "danger_signs" => self.danger_signs.refuse(why),
            "in_labour" => self.in_labour.refuse(why),
            "labour_began_at" => self.labour_began.refuse(why),
            _ => return false,
        }
        true
    }

    /// Puts back what she was asked of labour, which the findings alone do not tell: “no” and “not asked” are stored alike.
    pub(super) fn as_said(&self, pairs: &mut Vec<(String, String)>) {
        if self.asked.value != Some(How::AllClear) {
            pairs.retain(|(name, _)| name != "in_labour");
            if !self.in_labour.typed.is_empty() {
                pairs.push(("in_labour".to_owned(), self.in_labour.typed.clone()));
            }
        }
    }

    /// Whether any of the four is answered in these pairs.
    pub(super) fn is_in(pairs: &[(String, String)]) -> bool {
        let four = ["movements", "waters", "danger_signs", "in_labour"];
        pairs.iter().any(|(name, _)| four.contains(&name.as_str()))
    }

    /// As a list with these findings would send them.
    pub(super) fn pairs(findings: &Findings, sense: &Sense) -> Vec<(String, String)> {
        let visit = &findings.visit;
        // “no” is only known to have been said where all was asked
        let labour = if visit.in_labour {
            Some("true")
        } else {
            findings.signs_asked.then_some("false")
        };
        let mut pairs = given([
            ("movements", code(visit.movements)),
            ("waters", code(visit.waters)),
            ("in_labour", labour.map(str::to_owned)),
        ]);
        let signs = visit.danger_signs.iter().map(|it| it.code());
        let none = findings.signs_asked && visit.danger_signs.is_empty();
        let ticked = signs.chain(none.then_some("none"));
        pairs.extend(ticked.map(|it| ("danger_signs".to_owned(), it.to_owned())));
        for (name, moment) in [
            ("waters_broke", findings.waters_broke_at),
            ("labour_began", findings.labour_began_at),
        ] {
            let Some(local) = moment.map(|it| sense.local(it)) else {
                continue;
            };
            pairs.push((format!("{name}_date"), local.format("%Y-%m-%d").to_string()));
            pairs.push((format!("{name}_time"), local.format("%H:%M").to_string()));
        }
        pairs
    }
}
