//! The machine of most tests. Never here: what is done with it.

use evenrow_journal::Command;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};

/// Describes it: a board of twelve feet, with the usual plates and pitch.
pub(crate) fn pine_ridge_2() -> Command {
    Command::DescribeMachine {
        name: "Pine Ridge 2".to_owned(),
        moldboard: FOOT.times(12),
        plates: (SHORT_PLATE, LONG_PLATE),
        pitch: USUAL_PITCH,
    }
}
