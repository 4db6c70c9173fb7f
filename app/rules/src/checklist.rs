//! What is gone through before the first cut, after the last, and when a set is laid up.
//!
//! Each item has its basis. Never here: who ticked it and when (`journal`).

use crate::source::{Basis, Source};

/// Which list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum List {
    /// Before work starts.
    Opening,
    /// After it ends.
    Closing,
    /// When a set comes off and is stored.
    LayingUp,
}

/// One thing to see to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// Level ground, blade down on stands or timbers, brake set, engine off, key out.
    MachineSafe,
    /// Every tooth is there and none is broken.
    RowComplete,
    /// The teeth turn by hand.
    TeethTurn,
    /// Wedges or bolts hold the plates.
    PlatesTight,
    /// The angles stand as the sheet says; the mark on the frame can be seen.
    AnglesSet,
    /// Spare teeth, hammer and spike are aboard.
    SparesAboard,
    /// Fuel oil that flows today, and something to catch what drips, are aboard.
    OilAboard,
    /// Lights, signs and clothing for work on the road.
    TrafficReady,
    /// Broken or lost teeth have been replaced.
    BadTeethReplaced,
    /// Dirt is out of the sockets.
    SocketsClean,
    /// The sockets are oiled again.
    SocketsOiled,
    /// Nothing drips, and what was spilled is taken up.
    SpillsTaken,
    /// What the next operator must know is written down.
    HandedOver,
    /// Teeth and plates are clean.
    EdgeClean,
    /// Teeth and sockets are well oiled.
    EdgeOiled,
    /// The set lies indoors.
    StoredIndoors,
    /// Best: it lies in a covered bath of the same light oil.
    InOilBath,
}

impl List {
    /// What is on it, in order.
    ///
    /// Valid: always.
    /// Basis: [`Item::basis`] of each; the choice and the order are a house default.
    ///
    /// ```
    /// use evenrow_rules::checklist::{Item, List};
    /// assert_eq!(List::Opening.items()[..2], [Item::MachineSafe, Item::RowComplete]);
    /// assert_eq!(List::Closing.items().last(), Some(&Item::HandedOver));
    /// ```
    pub const fn items(self) -> &'static [Item] {
        match self {
            List::Opening => &[
                Item::MachineSafe,
                Item::RowComplete,
                Item::TeethTurn,
                Item::PlatesTight,
                Item::AnglesSet,
                Item::SparesAboard,
                Item::OilAboard,
                Item::TrafficReady,
            ],
            List::Closing => &[
                Item::MachineSafe,
                Item::BadTeethReplaced,
                Item::SocketsClean,
                Item::SocketsOiled,
                Item::SpillsTaken,
                Item::HandedOver,
            ],
            List::LayingUp => &[
                Item::MachineSafe,
                Item::EdgeClean,
                Item::EdgeOiled,
                Item::StoredIndoors,
                Item::InOilBath,
                Item::SpillsTaken,
            ],
        }
    }
}

impl Item {
    /// What it rests on.
    ///
    /// Valid: always.
    /// Basis: this is where it is said, once for each item.
    ///
    /// ```
    /// use evenrow_rules::{checklist::Item, source::{Basis, Source}};
    /// assert_eq!(Item::SpillsTaken.basis(), Basis::Published(Source::Cfr40Part110));
    /// assert_eq!(Item::TeethTurn.basis(), Basis::CommonPractice);
    /// ```
    pub const fn basis(self) -> Basis {
        match self {
            Item::MachineSafe => Basis::Published(Source::Cfr1926Part600),
            Item::SpillsTaken => Basis::Published(Source::Cfr40Part110),
            Item::RowComplete
            | Item::TeethTurn
            | Item::PlatesTight
            | Item::AnglesSet
            | Item::BadTeethReplaced
            | Item::SocketsClean
            | Item::TrafficReady
            | Item::EdgeClean
            | Item::EdgeOiled
            | Item::StoredIndoors
            | Item::InOilBath => Basis::CommonPractice,
            Item::SparesAboard | Item::OilAboard | Item::SocketsOiled | Item::HandedOver => {
                Basis::HouseDefault
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_list_begins_with_making_the_machine_safe() {
        for list in [List::Opening, List::Closing, List::LayingUp] {
            assert_eq!(list.items().first(), Some(&Item::MachineSafe));
        }
    }
}
