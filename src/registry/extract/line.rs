//! The rows behind the tables: columns of facts, without names, telephone or village.
//!
//! A line is pushed once and lies in columns from then on; two million rows never exist twice.

use crate::clinical::{Day, Moment};

/// One of the registry's codes.
pub type Code = &'static str;
/// The registry's own id of a record, code of a post or name of a rule; says nothing about the person.
pub type Id = String;
/// A whole number.
pub type Whole = i64;
/// Yes or no; absent is “not known”.
pub type Truth = bool;
/// A moment in UTC.
pub type At = Moment;
/// A calendar day at the post.
pub type On = Day;

/// The values of one column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Values {
    /// Codes.
    Code(Vec<Option<Code>>),
    /// Ids.
    Id(Vec<Option<Id>>),
    /// Whole numbers.
    Whole(Vec<Option<Whole>>),
    /// Yes or no.
    Truth(Vec<Option<Truth>>),
    /// Moments.
    At(Vec<Option<At>>),
    /// Days.
    On(Vec<Option<On>>),
}

/// One named column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// As in the line list.
    pub name: &'static str,
    /// One value a line.
    pub values: Values,
}

/// A line and its columns, from one list of fields.
macro_rules! lines {
    (@first $first:expr, $($rest:expr,)*) => { $first };
    ($(#[$doc:meta])* $lines:ident of $(#[$line_doc:meta])* $line:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ident,)+ }) => {
        $(#[$line_doc])*
        #[derive(Debug, Clone, Default, PartialEq, Eq)]
        pub struct $line { $($(#[$field_doc])* pub $field: Option<$kind>,)+ }

        $(#[$doc])*
        #[derive(Debug, Clone, Default, PartialEq, Eq)]
        pub struct $lines { $($field: Vec<Option<$kind>>,)+ }

        impl $lines {
            /// Adds a line.
            pub fn push(&mut self, line: $line) { $(self.$field.push(line.$field);)+ }

            /// How many lines.
            #[must_use]
            pub fn len(&self) -> usize { lines!(@first $(&self.$field,)+).len() }

            /// There is no line.
            #[must_use]
            pub fn is_empty(&self) -> bool { self.len() == 0 }

            /// The lines again, one by one.
            pub fn iter(&self) -> impl Iterator<Item = $line> + '_ {
                (0..self.len()).map(|at| $line { $($field: self.$field[at].clone(),)+ })
            }

            /// The columns, in the order of the line's fields.
            #[must_use]
            pub fn columns(self) -> Vec<Column> {
                vec![$(Column { name: stringify!($field), values: Values::$kind(self.$field) }),+]
            }
        }
    };
}

lines! {
    /// Women first registered in the month.
    MotherLines of
    /// One woman.
    MotherLine {
        /// Code of the post.
        post: Id,
        /// Day of registration.
        registered_on: On,
    }
}

lines! {
    /// Pregnancies, for the reason that the query names.
    PregnancyLines of
    /// One pregnancy.
    PregnancyLine {
        /// The pregnancy.
        id: Id,
        /// Code of the post.
        post: Id,
        /// Day on which it was opened.
        opened_on: On,
        /// A gestation can be computed at the end of the month.
        dated: Truth,
        /// Of the dating in force.
        due_date: On,
        /// Days gone since then, on the day of the report.
        days_past_due: Whole,
        /// Day of its end.
        ended_on: On,
        /// How it ended.
        ending: Code,
    }
}

lines! {
    /// Visits that took place in the month.
    VisitLines of
    /// One visit, as its newest revision has it.
    VisitLine {
        /// The visit.
        id: Id,
        /// Her pregnancy.
        pregnancy: Id,
        /// Code of the post.
        post: Id,
        /// Day of the visit.
        on: On,
        /// She was in labour.
        in_labour: Truth,
        /// For the day of the visit, 0 to 308; absent when unknown.
        gestation_days: Whole,
        /// A scan up to that day told of two babies or more.
        twins_known: Truth,
        /// Tenths of a centimetre.
        fundal_height_tenths: Whole,
        /// Lie by the hands.
        lie: Code,
        /// Presentation by the hands.
        presentation: Code,
        /// How far the findings agree.
        certainty: Code,
    }
}

lines! {
    /// Flags first raised in the month.
    FlagLines of
    /// One flag: one rule on one pregnancy until it is closed.
    FlagLine {
        /// The flag.
        id: Id,
        /// Her pregnancy.
        pregnancy: Id,
        /// Code of the post.
        post: Id,
        /// The rule.
        rule: Id,
        /// Its category.
        category: Code,
        /// The highest urgency it has had.
        urgency: Code,
        /// First raised.
        raised_at: At,
        /// The same, as a day at the post.
        raised_on: On,
        /// Confirmed or dismissed; absent when not reviewed.
        decision: Code,
        /// When.
        decided_at: At,
        /// How it was closed; absent while it stands.
        closing: Code,
        /// When.
        closed_at: At,
    }
}

lines! {
    /// Referrals decided in the month.
    ReferralLines of
    /// One referral with the times of its steps.
    ReferralLine {
        /// The referral.
        id: Id,
        /// Her pregnancy.
        pregnancy: Id,
        /// Code of the post.
        post: Id,
        /// The highest of its flags when decided.
        urgency: Code,
        /// Where it stands.
        state: Code,
        /// When it was decided.
        decided_at: At,
        /// The same, as a day at the post.
        decided_on: On,
        /// The first instant of the later day for which it was booked.
        planned_at: At,
        /// She left, time known or not.
        left: Truth,
        /// When.
        left_at: At,
        /// She arrived, time known or not.
        arrived: Truth,
        /// When.
        arrived_at: At,
        /// When the arrival was written down.
        arrival_entered_at: At,
        /// When she was seen.
        seen_at: At,
        /// An answer said that she came.
        answered: Truth,
        /// The answer says how the mother or the baby fared.
        outcome_told: Truth,
        /// The first `now` or `soon` flag of its reasons.
        first_flag_at: At,
    }
}

lines! {
    /// Why those referrals were decided.
    ReasonLines of
    /// One category among the reasons of one referral.
    ReasonLine {
        /// The referral.
        referral: Id,
        /// The category.
        category: Code,
    }
}

lines! {
    /// Babies whose first-born sibling, or who themselves, were born in the month.
    BabyLines of
    /// One baby with what is known of the birth.
    BabyLine {
        /// The birth.
        birth: Id,
        /// The pregnancy.
        pregnancy: Id,
        /// Code of the post.
        post: Id,
        /// 1 for the first baby.
        position: Whole,
        /// How many babies were born.
        babies: Whole,
        /// Day of birth of the first baby.
        first_born_on: On,
        /// Place of birth of the first baby.
        first_place: Code,
        /// Day of birth of the last baby: the end of the pregnancy.
        last_born_on: On,
        /// Day of birth.
        born_on: On,
        /// Moment of birth.
        born_at: At,
        /// Days gone since the birth, on the day of the report.
        days_old: Whole,
        /// Place of birth.
        place: Code,
        /// How it was born.
        mode: Code,
        /// What came first.
        presentation: Code,
        /// Sex.
        sex: Code,
        /// Grams.
        weight_g: Whole,
        /// Alive, or how it was stillborn.
        state: Code,
        /// It died after birth.
        died: Truth,
        /// Day of death.
        died_on: On,
        /// Moment of death.
        died_at: At,
        /// A malformation that nobody survives.
        lethal_malformation: Truth,
        /// The last day on which somebody saw it alive.
        seen_alive_on: On,
        /// On the day of the first baby's birth, 0 to 308; absent when unknown.
        gestation_days: Whole,
        /// How labour began.
        onset: Code,
        /// How the mother fared.
        mother_outcome: Code,
        /// Day of her death.
        mother_died_on: On,
        /// Births before this one.
        births_before: Whole,
        /// Caesareans before this one.
        previous_caesareans: Whole,
    }
}

lines! {
    /// Women of the births of the month, and what hands, tape and referrals said of them before.
    WomanLines of
    /// One woman; a reading is that of the last visit not in labour, 0 to 28 days before the birth.
    WomanLine {
        /// The birth.
        birth: Id,
        /// A scan told of two babies or more.
        twins_known: Truth,
        /// A referral of this pregnancy reached a hospital.
        referral_arrived: Truth,
        /// She was seen before labour.
        seen_before_labour: Truth,
        /// She was seen before labour from 32w+0d on, or with unknown gestation.
        seen_from_32_weeks: Truth,
        /// She was seen before labour near term, or with a belly that may be near term.
        seen_near_term: Truth,
        /// How far the findings of the last such visit agree; absent when nothing was felt.
        near_term_certainty: Code,
        /// Lie by the reading of the hands.
        felt_lie: Code,
        /// Presentation by the same reading.
        felt_presentation: Code,
        /// How far that reading agrees with itself; absent when there is none.
        felt_certainty: Code,
        /// There is a reading of the tape.
        taped: Truth,
        /// It is small; absent when it cannot be judged.
        taped_small: Truth,
    }
}

lines! {
    /// Flags of the pregnancies that ended with a birth of the month.
    DangerLines of
    /// One flag, against the birth and the beginning of labour.
    DangerLine {
        /// The birth.
        birth: Id,
        /// Its category.
        category: Code,
        /// The highest urgency it has had.
        urgency: Code,
        /// Raised before the first baby was born.
        before_birth: Truth,
        /// Raised before labour began.
        before_labour: Truth,
        /// Dismissed at any time.
        dismissed: Truth,
        /// Raised before labour began, and neither dismissed nor settled then.
        stood_in_labour: Truth,
    }
}
