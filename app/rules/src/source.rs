//! What a statement may rest on, and the bibliography.
//!
//! The titles below are data, quoted as printed; they are the only prose in this crate.

/// What stands behind a statement or a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Common practice in the trade; no published source.
    CommonPractice,
    /// A published source.
    Published(Source),
    /// Follows from geometry or arithmetic; the derivation stands in the docstring.
    Geometry,
    /// Our own judgement where the trade gives no number. A default that the user may change, never a fact.
    HouseDefault,
}

/// The published sources that this crate leans on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Source {
    /// Gravel road manuals of FHWA and South Dakota LTAP (2000) and FHWA (2015).
    GravelManuals,
    /// ROADEX: crossfall of gravel and forest roads.
    Roadex,
    /// Road Management & Engineering Journal, June 2000: washboarding.
    Washboard2000,
    /// NAVEDTRA 14081: grader estimates.
    EquipmentOperator,
    /// FM 5-434: work time of a grader.
    EarthmovingOperations,
    /// Earthmoving performance handbooks: area rate and usual speeds of a grader.
    EarthmovingHandbooks,
    /// Roads and Streets, December 1973: blade pull and down-force.
    RoadsAndStreets1973,
    /// Iowa DOT HR-372: the force angle.
    IowaHr372,
    /// Georgia DOT, I-75: ridges left by a milling drum.
    GeorgiaMicromilling2009,
    /// TRB 2012, I-95: texture left by a milling drum.
    Trb2012,
    /// ASTM E965 and EN 13036-1: the sand patch.
    SandPatch,
    /// NIST/SEMATECH: Student's t.
    NistStudentT,
    /// Newcombe 1998: the difference between two shares.
    Newcombe1998,
    /// Machines 2025, 13(10), 957: turning picks.
    TurningPicks2025,
    /// EN 590: diesel fuel, flash point and cold classes.
    En590,
    /// 29 CFR 1926.600: blades lowered or blocked when repaired or not in use.
    Cfr1926Part600,
    /// 29 CFR 1910.133: eye protection against flying particles.
    Cfr1910Part133,
    /// 40 CFR 110.3: report a sheen of oil on water.
    Cfr40Part110,
}

/// A source as a reader needs it to find the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Citation {
    /// Who wrote or issued it.
    pub authors: &'static str,
    /// Its title as printed.
    pub title: &'static str,
    /// Who published it and when.
    pub published: &'static str,
    /// Whether the numbers we use were read in it, or are quoted from memory.
    pub read: Read,
}

/// How a number came to us from its source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Read {
    /// Seen in the source or in a table quoting it.
    Seen,
    /// Value from memory; not seen in the source while this was written.
    FromMemory,
}

impl Source {
    /// Every source, in the order in which the sources page lists them.
    ///
    /// Basis: the list of this file.
    pub const ALL: [Source; 18] = [
        Source::GravelManuals,
        Source::Roadex,
        Source::Washboard2000,
        Source::EquipmentOperator,
        Source::EarthmovingOperations,
        Source::EarthmovingHandbooks,
        Source::RoadsAndStreets1973,
        Source::IowaHr372,
        Source::GeorgiaMicromilling2009,
        Source::Trb2012,
        Source::SandPatch,
        Source::NistStudentT,
        Source::Newcombe1998,
        Source::TurningPicks2025,
        Source::En590,
        Source::Cfr1926Part600,
        Source::Cfr1910Part133,
        Source::Cfr40Part110,
    ];

    /// Where to find it.
    ///
    /// Valid: always.
    /// Basis: the title pages, as far as they were seen.
    ///
    /// ```
    /// use evenrow_rules::source::{Read, Source};
    /// assert_eq!(Source::IowaHr372.citation().published, "1997");
    /// assert_eq!(Source::GravelManuals.citation().read, Read::FromMemory);
    /// ```
    pub const fn citation(self) -> Citation {
        match self {
            Source::GravelManuals => Citation {
                authors: "K. Skorseth, A. A. Selim; K. Skorseth, R. Reid, K. Heiberger",
                title: "Gravel Roads: Maintenance and Design Manual; Gravel Roads Construction & Maintenance Guide",
                published: "FHWA and South Dakota LTAP, November 2000; FHWA, August 2015",
                read: Read::FromMemory,
            },
            Source::Roadex => Citation {
                authors: "ROADEX Network",
                title: "ROADEX e-learning: Gravel and forest road",
                published: "ROADEX Network",
                read: Read::Seen,
            },
            Source::Washboard2000 => Citation {
                authors: "K. Skorseth",
                title: "Road Management & Engineering Journal",
                published: "June 2000",
                read: Read::Seen,
            },
            Source::EquipmentOperator => Citation {
                authors: "US Navy, Naval Education and Training",
                title: "NAVEDTRA 14081: Equipment Operator, Basic, chapter 10, Grader Estimates, page 10-15",
                published: "Naval Education and Training; the definitions were read",
                read: Read::Seen,
            },
            Source::EarthmovingOperations => Citation {
                authors: "HQ Department of the Army",
                title: "FM 5-434: Earthmoving Operations, chapter 4",
                published: "15 June 2000; superseded with identical content by TM 3-34.62 / MCRP 3-17.7I, 29 June 2012",
                read: Read::FromMemory,
            },
            Source::EarthmovingHandbooks => Citation {
                authors: "Earthmoving performance handbooks",
                title: "Earthmoving performance handbooks",
                published: "various; the speeds were read, the inputs of the area rate are from memory",
                read: Read::FromMemory,
            },
            Source::RoadsAndStreets1973 => Citation {
                authors: "Roads and Streets",
                title: "Roads and Streets 116(12); TRID 140334",
                published: "December 1973",
                read: Read::Seen,
            },
            Source::IowaHr372 => Citation {
                authors: "Iowa DOT",
                title: "Iowa DOT HR-372",
                published: "1997",
                read: Read::Seen,
            },
            Source::GeorgiaMicromilling2009 => Citation {
                authors: "Georgia DOT",
                title: "Georgia's Pavement Preservation with Micromilling and Thin Asphalt Overlay",
                published: "2009",
                read: Read::Seen,
            },
            Source::Trb2012 => Citation {
                authors: "Transportation Research Board",
                title: "TRB 2012, I-95",
                published: "2012",
                read: Read::Seen,
            },
            Source::SandPatch => Citation {
                authors: "ASTM; CEN",
                title: "ASTM E965; EN 13036-1",
                published: "ASTM; European Committee for Standardization",
                read: Read::Seen,
            },
            Source::NistStudentT => Citation {
                authors: "NIST/SEMATECH",
                title: "NIST/SEMATECH: Student t",
                published: "NIST",
                read: Read::Seen,
            },
            Source::Newcombe1998 => Citation {
                authors: "R. G. Newcombe",
                title: "Interval estimation for the difference between independent proportions: comparison of eleven methods",
                published: "Statistics in Medicine 17(8), 873-890, 1998",
                read: Read::FromMemory,
            },
            Source::TurningPicks2025 => Citation {
                authors: "Machines",
                title: "Machines 13(10), 957",
                published: "2025; the abstract was read",
                read: Read::Seen,
            },
            Source::En590 => Citation {
                authors: "CEN",
                title: "EN 590: Automotive fuels - Diesel - Requirements and test methods",
                published: "European Committee for Standardization",
                read: Read::Seen,
            },
            Source::Cfr1926Part600 => Citation {
                authors: "US Code of Federal Regulations",
                title: "29 CFR 1926.600(a)(3)(i): Equipment",
                published: "Occupational Safety and Health Administration",
                read: Read::Seen,
            },
            Source::Cfr1910Part133 => Citation {
                authors: "US Code of Federal Regulations",
                title: "29 CFR 1910.133(a): Eye and face protection",
                published: "Occupational Safety and Health Administration",
                read: Read::Seen,
            },
            Source::Cfr40Part110 => Citation {
                authors: "US Code of Federal Regulations",
                title: "40 CFR 110.3: Discharge of oil",
                published: "Environmental Protection Agency",
                read: Read::Seen,
            },
        }
    }
}
