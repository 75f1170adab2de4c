//! What to do, in our own words; each line is followed by the caution.

/// The line that every conclusion ends with.
pub const CAUTION: &str =
    "Support for trained staff. Follow your local protocol; the person at the bedside decides.";
/// Added to every `now` flag where birth is near (common practice); no urgency is lowered (our own choice).
pub const BIRTH_NEAR: &str = "Birth may come before arrival: call the receiving hospital before setting out, and prepare to receive the baby. Sources except an imminent birth from transport.";

pub(super) const SEND_DO_NOT_TURN: &str = "Send her now where an operation is possible. Do not try to turn the baby. Feel and look for the cord if the waters have gone.";
pub(super) const BOOK_BEFORE_LABOUR: &str = "Book the hospital now and tell her to come at the first pain or when the waters break. Nobody turns the baby here.";
pub(super) const FEEL_AGAIN: &str =
    "Usual at this stage. Feel again on the named day; most turn by themselves.";
pub(super) const DO_NOT_PULL: &str = "Do not turn or pull. Send.";
pub(super) const BREECH_SKILLED: &str = "Breech birth needs skilled hands: send, or if birth is close prepare for it here and call. Look for the cord.";
pub(super) const BREECH_BOOK: &str =
    "Book the hospital; a doctor may try to turn the baby. Never at the post.";
pub(super) const TWINS_PLAN: &str = "Plan the birth in hospital; in labour send, with a second person for the second baby if birth is close.";
pub(super) const TWINS_SCAN: &str =
    "Send for a scan. One baby lying awkwardly is commoner than two.";
pub(super) const SMALL_BIRTH: &str =
    "Small or early baby: send, keep warmth ready, birth with help for the baby's breathing.";
pub(super) const SMALL_MOVES: &str =
    "A small baby that moves less can be in danger: listen to the heart and send now.";
pub(super) const HEIGHT_SCAN: &str =
    "Check the dates, measure again with an empty bladder, then a scan.";
pub(super) const LARGE_THINK: &str =
    "Check the dates; think of twins, much fluid, sugar. Size alone is no referral.";
/// [M].
pub(super) const SEND_TO_SURGERY: &str = "Send her where an operation is possible. Empty bladder, on her side, nothing to speed contractions; the labour record goes with her.";
pub(super) const LABOUR_COMFORT: &str =
    "Empty bladder, drink, walk, company. Is it labour? Ask who decides when to send.";
pub(super) const EXAMINE_AGAIN: &str = "Examine again within 2 h: fifths by hand first, then sutures. Think of face, brow and a tight fit.";
pub(super) const PUSH_CHANGE: &str =
    "Change position, empty bladder, count the heart every 5 minutes; ask for help.";
pub(super) const HIGH_HEAD_LOOK: &str = "Usual in many first babies. Look for a low placenta, a full bladder, a tight fit; plan where she gives birth.";
pub(super) const FACING_FRONT: &str = "Expect a longer labour and back pain; let her choose positions, watch progress. Most turn by themselves.";
pub(super) const SEND_WITH_FIRST_AID: &str = "Call for help, help her breathe, on her side, and send. First treatment by the local protocol before leaving.";
pub(super) const CORD: &str = "Listen to the heart; look and feel for the cord now. Cord down: hips high, keep the head off it, keep it warm inside, send; nearly born: deliver here.";
/// [O]: the one exception to “no fingers inside”, because a cord that is missed costs more than one clean examination.
pub(super) const CORD_RISK: &str = "Listen to the heart and look for the cord now. Head this high and waters gone: one examination inside with clean gloves, for the cord alone, then no more. Cord down: hips high, keep the head off it, keep it warm inside, send.";
pub(super) const FOUL: &str = "First antibiotic dose by the local protocol, then send. Birth close: deliver first, then send both.";
pub(super) const BLEEDING_LOOK: &str = "Look for bleeding outside and in. On her left side, repeat at the named time. Confirmed: treat as bleeding and send.";
pub(super) const CONTRACTIONS_REST: &str = "Nothing that strengthens contractions. Left side, count the heart, look for blood and a hard belly, count again over 10 minutes.";
pub(super) const PRESSURE_SEND: &str = "Ask for headache, eyes, upper belly pain. First dose against fits and against the pressure by the local protocol, then as the urgency says.";
pub(super) const PRESSURE_AGAIN: &str =
    "Rest 30 to 60 minutes, measure again, test urine, ask for headache, eyes, upper belly pain.";
pub(super) const URINE_AGAIN: &str =
    "Clean sample at once, measure the pressure, ask for burning and fever.";
pub(super) const HEART_LISTEN: &str = "Left side. Cord, blood, green fluid? Count a full minute after a contraction. Birth close: be ready to help the baby breathe.";
/// [R PEP-2-25].
pub(super) const HEART_SECOND_PERSON: &str = "On her left side, another person listens; ask about movements. Three or fewer in 6 hours, or still not heard: hospital.";
pub(super) const WATERS_SEND: &str = "No fingers inside. Temperature, heart and smell; first antibiotic dose by the local protocol; send as the urgency says.";
pub(super) const WATERS_LEAVE_BY: &str =
    "No fingers inside. Temperature, pulse, heart, smell every 4 h. Leave by the named time.";
pub(super) const MECONIUM: &str =
    "Count the heart every 15 minutes; prepare for the baby; send as the urgency says.";
pub(super) const PRETERM: &str = "Small or early baby: send as the urgency says, warmth on the way; steroid and antibiotic by the local protocol.";
pub(super) const PAST_DATES: &str = "Check the dates; the hospital decides about induction.";
pub(super) const SCAR: &str = "Birth where an operation is possible; in labour send now.";
pub(super) const PLACE: &str =
    "Talk about the place of birth and who travels with her; note it in her plan.";
pub(super) const SECOND_HANDS: &str =
    "A second pair of hands, then a scan. The earlier clock keeps running.";
pub(super) const FIND_A_DATE: &str = "Look for a date: first movements, card, scan. Over 44 weeks: has she given birth? Still pregnant: hospital within days, as past dates.";
pub(super) const LATE_SCAN: &str =
    "Scan again in 3 to 4 weeks: a baby that grows badly looks young.";
pub(super) const SECOND_TAPE: &str = "A second tape today, by another person, bladder empty. Still low: check the dates, then a scan.";
pub(super) const SECOND_TAPE_WEEK: &str = "A second tape today, by another person, and measure again within 7 days. No growth again: a scan.";
