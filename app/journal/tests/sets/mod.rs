//! A machine with a set of teeth that is new to it.

use evenrow_journal::event::NewSet;
use evenrow_journal::{Command, Id};
use evenrow_rules::quantity::Instant;
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Tips;

use crate::lengths::mm;
use crate::phone::{Phone, cab};
use crate::pine_ridge::pine_ridge_2;

/// 96 new teeth of 20 mm, done at 5.
pub(crate) fn new_set(kind: ToothKind) -> NewSet {
    NewSet {
        kind,
        tips: Tips::new(mm(20.0), mm(5.0)).unwrap(),
        tip: mm(20.0),
        teeth: 96,
    }
}

/// A machine that was described at one moment, with a new set mounted at another.
pub(crate) fn with_a_set(described: Instant, mounted: Instant, kind: ToothKind) -> (Phone, Id) {
    let mut phone = Phone::default();
    phone.does(described, pine_ridge_2());
    let mount = Command::MountSet {
        machine: cab(),
        new: new_set(kind),
    };
    let set = phone.does(mounted, mount);
    (phone, set)
}
