//! Said once: what was done stands on the next page. A code that lives a minute, never text that travels.

use actix_web::HttpRequest;
use actix_web::cookie::time::Duration;
use actix_web::cookie::{Cookie, SameSite};

use crate::clinical::codes;

const COOKIE: &str = "said";

codes! {
    /// What was done. Add yours; the words are a whole sentence.
    Said {
        LabourOpened = "labour-opened", "The labour record is open.";
        RowSaved = "row-saved", "The row is saved.";
        RowAmended = "row-amended", "The row is amended; the old one stays readable.";
        LabourClosed = "labour-closed", "The labour record is closed.";
        FlagConfirmed = "flag-confirmed", "The flag is confirmed.";
        FlagDismissed = "flag-dismissed", "The flag is dismissed. A later visit can raise it again.";
        ReferralDecided = "referral-decided", "The referral is decided. Phone the hospital, then print the letter.";
        ReferralLeft = "referral-left", "She is on her way.";
        ReferralArrived = "referral-arrived", "She has arrived.";
        ReferralStoodDown = "referral-stood-down", "The referral is stood down.";
        ReferralInError = "referral-in-error", "The referral is marked as entered in error.";
        StepSaved = "step-saved", "The step is saved.";
        StepPutRight = "step-put-right", "The step is put right; the old version stays readable.";
        AnswerSaved = "answer-saved", "The answer is saved.";
        BirthRecorded = "birth-recorded", "The birth is saved. Her pregnancy has ended.";
        BirthAmended = "birth-amended", "The birth is amended; the old version stays readable.";
        BirthInError = "birth-in-error", "The birth is marked as entered in error. Her pregnancy goes on.";
        SignedOut = "signed-out", "You are signed out.";
        PasswordChanged = "password-changed", "The password is changed. Your other sessions have ended.";
        SessionEnded = "session-ended", "The session has ended.";
        SessionsEnded = "sessions-ended", "All other sessions have ended.";
        FormChosen = "form-chosen", "The next visit form opens the way you chose.";
        PostSaved = "post-saved", "The settings of the post are saved.";
        HospitalSaved = "hospital-saved", "The hospital is saved.";
        AccountOpened = "account-opened", "The account is open. Tell the first password by voice.";
        PasswordReset = "password-reset", "The new password is set, and all sessions of the account have ended.";
        AccountStopped = "account-stopped", "The account is stopped, and its sessions have ended.";
        VisitRecorded = "visit-recorded", "The visit is saved.";
        VisitKnown = "visit-known", "This visit was saved before. What you changed since then is not in it: amend it below.";
        VisitAmended = "visit-amended", "The visit is amended, and its flags are judged again.";
        MotherRegistered = "mother-registered", "She is in the register.";
        MotherAmended = "mother-amended", "What is told of her is saved.";
        PregnancyOpened = "pregnancy-opened", "The pregnancy is open.";
        PregnancyAmended = "pregnancy-amended", "Dates and history are saved, and her flags are judged anew.";
        PregnancyEnded = "pregnancy-ended", "The pregnancy has ended; its flags are closed.";
        StaffSessionsEnded = "staff-sessions-ended", "All sessions of the account have ended.";
        MonthSigned = "month-signed", "The month is signed. Its figures are kept as they stood.";
    }
}

/// The cookie that says it on the next page.
pub(crate) fn say(said: Said, secure: bool) -> Cookie<'static> {
    cookie(said.code(), Duration::seconds(60), secure)
}

/// What was said to this request; an unknown code is silence.
pub(crate) fn said(req: &HttpRequest) -> Option<Said> {
    req.cookie(COOKIE)?.value().parse().ok()
}

/// Whether the request carries anything to be taken back once it was shown.
pub(crate) fn was_said(req: &HttpRequest) -> bool {
    req.cookie(COOKIE).is_some()
}

/// Takes it back.
pub(crate) fn unsay(secure: bool) -> Cookie<'static> {
    cookie("", Duration::ZERO, secure)
}

fn cookie(code: &'static str, age: Duration, secure: bool) -> Cookie<'static> {
    Cookie::build(COOKIE, code)
        .path("/")
        .http_only(true)
        .same_site(SameSite::Lax)
        .secure(secure)
        .max_age(age)
        .finish()
}
