//! Stores vocabularies and ids as text. `clinical` knows no database, so its enums get their columns here.
//!
//! An unknown code in a row is an error, never a default. Names an inner path of diesel, hence the pinned version.

use diesel::backend::Backend;
use diesel::deserialize::{self, FromSql, Queryable};
use diesel::expression::AsExpression;
use diesel::internal::derives::as_expression::Bound;
use diesel::serialize::{self, Output, ToSql};
use diesel::sql_types::{Nullable, SingleValue, Text};

use super::ids::{
    AnswerId, BirthId, FlagId, HospitalId, LabourId, LabourRowId, MonthSignatureId, MotherId,
    PostId, PregnancyId, ReferralId, ReferralStepId, ScanId, SessionId, StaffId, VisitId,
};
use super::vocabulary::{
    AnswerWay, BirthPlace, BirthPresentation, FlagClosing, FlagDecision, LabourEnding, Mode,
    MotherOutcome, NewbornState, Onset, PregnancyEnding, ReferralEvent, ReferralState, Role, Sex,
    StandDownReason, VisitForm,
};
use crate::clinical::{
    Category, DangerSign, Deceleration, FeltInside, Front, Head, HeightMethod, LabourProtocol,
    Liquor, Movements, ObstructionSign, Occiput, PastEvent, Pole, Protein, Side, Urgency, Waters,
};

macro_rules! text_columns {
    ($($kind:ty),+ $(,)?) => { $(
        impl<DB: Backend> ToSql<Text, DB> for $kind where str: ToSql<Text, DB> {
            fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
                <str as ToSql<Text, DB>>::to_sql(self.code(), out)
            }
        }
        impl<DB: Backend> ToSql<Nullable<Text>, DB> for $kind where $kind: ToSql<Text, DB> {
            fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, DB>) -> serialize::Result {
                <$kind as ToSql<Text, DB>>::to_sql(self, out)
            }
        }
        impl<DB: Backend> FromSql<Text, DB> for $kind where String: FromSql<Text, DB> {
            fn from_sql(bytes: DB::RawValue<'_>) -> deserialize::Result<Self> {
                String::from_sql(bytes)?.parse::<$kind>()
                    .map_err(|error| format!("{}: {error}", stringify!($kind)).into())
            }
        }
        impl<ST: SingleValue, DB: Backend> Queryable<ST, DB> for $kind where $kind: FromSql<ST, DB> {
            type Row = $kind;
            fn build(row: $kind) -> deserialize::Result<Self> { Ok(row) }
        }
        text_columns!(@expression $kind, Text);
        text_columns!(@expression $kind, Nullable<Text>);
        text_columns!(@expression &$kind, Text);
        text_columns!(@expression &$kind, Nullable<Text>);
    )+ };
    (@expression $kind:ty, $sql:ty) => {
        impl AsExpression<$sql> for $kind {
            type Expression = Bound<$sql, Self>;
            fn as_expression(self) -> Self::Expression { Bound::new(self) }
        }
    };
}

text_columns!(
    Pole,
    Side,
    Front,
    Head,
    Movements,
    Waters,
    Protein,
    DangerSign,
    FeltInside,
    Occiput,
    Liquor,
    Deceleration,
    ObstructionSign,
    PastEvent,
    LabourProtocol,
    HeightMethod,
    Urgency,
    Category,
);
text_columns!(
    Role,
    VisitForm,
    FlagDecision,
    FlagClosing,
    LabourEnding,
    ReferralState,
    ReferralEvent,
    StandDownReason,
    AnswerWay,
    BirthPlace,
    Onset,
    Mode,
    BirthPresentation,
    Sex,
    NewbornState,
    MotherOutcome,
    PregnancyEnding,
);
text_columns!(
    AnswerId,
    BirthId,
    FlagId,
    HospitalId,
    LabourId,
    LabourRowId,
    MonthSignatureId,
    MotherId,
    PostId,
    PregnancyId,
    ReferralId,
    ReferralStepId,
    ScanId,
    SessionId,
    StaffId,
    VisitId,
);
