//! The signed-in person, as pages need to know her.

use chrono_tz::Tz;

use crate::registry::{By, PostId, Role, StaffId, VisitForm};

/// A post as its people's pages need to know it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Seat {
    pub(crate) id: PostId,
    /// Letters of its register numbers.
    pub(crate) code: String,
    pub(crate) name: String,
    pub(crate) zone: Tz,
}

/// Who is signed in.
#[derive(Debug, Clone)]
pub(crate) struct Person {
    pub(crate) id: StaffId,
    pub(crate) sign_in: String,
    pub(crate) name: String,
    pub(crate) role: Role,
    /// Absent for district and keeper.
    pub(crate) post: Option<Seat>,
    /// The drawn visit form or the list.
    pub(crate) visit_form: VisitForm,
    /// The clock of her post; of the district, for those without one.
    pub(crate) zone: Tz,
    /// The district's name, if the program was told.
    pub(crate) district: String,
}

impl Person {
    /// As the registry's changes name her.
    pub(crate) fn by(&self) -> By {
        By {
            staff: Some(self.id),
            name: self.name.clone(),
            role: Some(self.role),
            post: self.post.as_ref().map(|seat| seat.id),
        }
    }

    /// Her post, or the district.
    pub(crate) fn place(&self) -> &str {
        self.post.as_ref().map_or(&self.district, |seat| &seat.name)
    }

    /// “Imke Torvalo, nurse · Quern Ford”.
    pub(crate) fn introduced(&self) -> String {
        let who = format!("{}, {}", self.name, self.role.words());
        match self.place() {
            "" => who,
            place => format!("{who} · {place}"),
        }
    }
}
