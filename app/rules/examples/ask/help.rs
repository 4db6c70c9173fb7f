//! What can be asked: every request with its fields, its answer and an example. The tests try every example and hold
//! the lists against the types.

/// One request as the help describes it.
#[derive(Debug)]
pub(crate) struct Described {
    /// What `ask` has to say.
    pub(crate) ask: &'static str,
    /// What it answers.
    pub(crate) says: &'static str,
    /// Its fields besides `ask`, each with what it means; one that may be left out says so.
    pub(crate) fields: &'static [(&'static str, &'static str)],
    /// What the answer carries.
    pub(crate) answers: &'static [(&'static str, &'static str)],
    /// A request that gets an answer.
    pub(crate) example: &'static str,
}

const LEVEL: &str = "how sure to be, 0.5 to 0.9999; may be left out: 0.95";
const GRADING: &str = "grading angle in degrees from the direction of travel, 0 to 90";
const BREAKS: &str = "list of [from, to] in RFC 3339; may be left out: none";

/// Every request, in the order of the trade: row, angles, road, shift, wear, spares, money, sheet.
pub(crate) const REQUESTS: &[Described] = &[
    Described {
        ask: "row_fit",
        says: "The plates that cover a moldboard: the largest cover that does not stick out, fewest different lengths.",
        fields: &[
            ("moldboard_mm", "length of the moldboard, 1200 to 8000"),
            (
                "plates_mm",
                "the one or two plate lengths to be had, 150 to 2500",
            ),
            ("pitch_mm", "distance between neighbouring teeth, 20 to 150"),
        ],
        answers: &[
            ("plates_mm", "the plates in order"),
            ("teeth", "teeth of the full row"),
            ("teeth_per_plate", "teeth of each plate, in the same order"),
            ("covered_mm", "what the plates cover"),
            ("bare_mm", "what takes a plain edge"),
        ],
        example: r#"{"ask":"row_fit","moldboard_mm":3657.6,"plates_mm":[914.4,990.6],"pitch_mm":38.1}"#,
    },
    Described {
        ask: "teeth_for_width",
        says: "The most teeth that stay within a width across the road.",
        fields: &[
            ("width_mm", "the width"),
            (
                "pitch_mm",
                "distance between neighbouring teeth, more than 0",
            ),
            ("grading_deg", GRADING),
        ],
        answers: &[
            ("teeth", "how many"),
            ("working_width_mm", "what they cover across the road"),
        ],
        example: r#"{"ask":"teeth_for_width","width_mm":2500,"pitch_mm":38.1,"grading_deg":60}"#,
    },
    Described {
        ask: "effective_width",
        says: "What a board or row covers across the road, and how far its heel lies behind its toe.",
        fields: &[
            ("length_mm", "length of the board or row"),
            ("grading_deg", GRADING),
        ],
        answers: &[
            ("width_mm", "across the road"),
            ("offset_mm", "toe to heel, along the travel"),
        ],
        example: r#"{"ask":"effective_width","length_mm":3657.6,"grading_deg":60}"#,
    },
    Described {
        ask: "rise_and_run",
        says: "The cutting angle from a rise and a run by tape, seen along the moldboard.",
        fields: &[
            ("rise_mm", "upwards"),
            ("run_mm", "forwards, square to the moldboard"),
            (
                "grading_deg",
                "grading angle, to learn what the same would read from the machine's side; may be left out",
            ),
        ],
        answers: &[
            ("cutting_deg", "the cutting angle"),
            (
                "seen_from_the_side_deg",
                "what it would wrongly read from the machine's side; null without grading_deg",
            ),
        ],
        example: r#"{"ask":"rise_and_run","rise_mm":358,"run_mm":300,"grading_deg":55}"#,
    },
    Described {
        ask: "grading_from_offset",
        says: "The grading angle from the toe-to-heel offset.",
        fields: &[
            ("length_mm", "length of the board"),
            (
                "offset_mm",
                "how far the heel lies behind the toe, along the travel",
            ),
        ],
        answers: &[
            ("grading_deg", "degrees from the direction of travel"),
            ("may_be_set", "whether it stays under 80 degrees"),
        ],
        example: r#"{"ask":"grading_from_offset","length_mm":3657.6,"offset_mm":1828.8}"#,
    },
    Described {
        ask: "frame_marks",
        says: "Where to tape or paint marks on a frame, from the first mark on.",
        fields: &[
            ("radius_mm", "from the pivot, 10 to 10000"),
            ("from_deg", "the angle of the first mark"),
            ("to_deg", "the angle not to go beyond, at most 180 more"),
            ("step_deg", "from mark to mark, more than 0"),
        ],
        answers: &[(
            "marks",
            "list of deg, arc_mm (along the curve) and chord_mm (straight across)",
        )],
        example: r#"{"ask":"frame_marks","radius_mm":450,"from_deg":35,"to_deg":55,"step_deg":5}"#,
    },
    Described {
        ask: "tilt",
        says: "The cutting angle from gravity readings of a phone, square to the moldboard, on the road and on the plate.",
        fields: &[
            ("road", "list of [x, y, z] in m/s2, three or more"),
            ("blade", "the same on the plate"),
            (
                "tooth_deg",
                "from the plate to the tooth's axis; may be left out: 0",
            ),
        ],
        answers: &[
            ("angle_deg", "the cutting angle"),
            (
                "uncertainty_deg",
                "it is within this, either way, 19 times in 20",
            ),
            (
                "turned_deg",
                "how far the plate is turned from the road, with its sign",
            ),
        ],
        example: r#"{"ask":"tilt","road":[[0,0,9.81],[0,0,9.81],[0,0,9.81]],"blade":[[0,7.515,6.306],[0,7.515,6.306],[0,7.515,6.306]]}"#,
    },
    Described {
        ask: "crossfall",
        says: "The fall of the road to its side from gravity readings of a phone, long edge across the road, and of the same turned end for end.",
        fields: &[
            ("one", "list of [x, y, z] in m/s2, three or more"),
            ("turned", "the same, turned end for end on the same spot"),
        ],
        answers: &[
            ("fall_percent", "how far the road falls, whichever way"),
            (
                "uncertainty_percent",
                "it is within this, either way, 19 times in 20",
            ),
        ],
        example: r#"{"ask":"crossfall","one":[[0,0.392,9.802],[0,0.392,9.802],[0,0.392,9.802]],"turned":[[0,-0.392,9.802],[0,-0.392,9.802],[0,-0.392,9.802]]}"#,
    },
    Described {
        ask: "finish",
        says: "The tracks across the road and what stands between them. The tip is given once, as one of three shapes.",
        fields: &[
            ("pitch_mm", "distance between neighbouring teeth"),
            ("grading_deg", GRADING),
            ("tip_radius_mm", "a round tip of this radius, 0.5 to 100"),
            (
                "tip_cone_deg",
                "or a pointed tip of this full angle, 10 to 170",
            ),
            ("tip_flat_mm", "or a blunt tip of this width, 0.5 to 100"),
            ("worn_mm", "what the tip has lost; may be left out: 0"),
            (
                "passes",
                "passes, each offset by an even part of the spacing; may be left out: 1",
            ),
        ],
        answers: &[
            ("spacing_mm", "from track to track across the road"),
            (
                "ridge_mm",
                "height of the ridge; null where the tips do not reach each other",
            ),
            (
                "uncut_strip_mm",
                "width of the strip left uncut; null where there is a ridge",
            ),
            ("track_flat_mm", "width of a track's flat bottom"),
        ],
        example: r#"{"ask":"finish","pitch_mm":38.1,"grading_deg":60,"tip_radius_mm":20,"passes":1}"#,
    },
    Described {
        ask: "load",
        says: "What one tooth gets of the down-force. Worked out, the down-force is the ceiling at which the front wheels lift, never a setting.",
        fields: &[
            ("front_axle_kg", "mass weighed under the front wheels"),
            ("wheelbase_mm", "1000 to 15000"),
            (
                "edge_to_rear_mm",
                "from the edge to the centre of the rear wheels, 300 to 15000",
            ),
            (
                "down_force_kn",
                "or the down-force itself, instead of those three",
            ),
            ("teeth", "teeth that touch"),
            ("full_row", "teeth of the full row"),
        ],
        answers: &[
            ("down_force_kn", "at the edge"),
            ("per_tooth_kn", "what each tooth that touches carries"),
            (
                "times_full_row",
                "how many times as much as with the full row",
            ),
            ("is_ceiling", "whether the down-force was worked out"),
        ],
        example: r#"{"ask":"load","front_axle_kg":4000,"wheelbase_mm":6000,"edge_to_rear_mm":2500,"teeth":24,"full_row":96}"#,
    },
    Described {
        ask: "work_time",
        says: "The hours of a job, its legs at their own speeds.",
        fields: &[
            (
                "legs",
                "list of passes, distance_km, speed_kmh and, where the edge is up, edge_up: true",
            ),
            (
                "efficiency",
                "the share of the hour in which work gets done, 0.01 to 1",
            ),
        ],
        answers: &[
            ("hours", "all of it"),
            ("leg_hours", "each leg"),
            ("edge_down_hours", "of it with the edge on the road"),
            ("driven_km", "the whole way"),
            ("worked_km", "of it with the edge on the road"),
        ],
        example: r#"{"ask":"work_time","legs":[{"passes":2,"distance_km":8.04672,"speed_kmh":3.7014912}],"efficiency":0.6}"#,
    },
    Described {
        ask: "area_rate",
        says: "The area worked in an hour.",
        fields: &[
            ("speed_kmh", "speed"),
            ("effective_m", "effective width"),
            (
                "overlap_m",
                "overlap of a pass with the one before, less than that",
            ),
            (
                "efficiency",
                "the share of the hour in which work gets done",
            ),
        ],
        answers: &[("m2_per_hour", "square metres per hour")],
        example: r#"{"ask":"area_rate","speed_kmh":13,"effective_m":3.17,"overlap_m":0.6,"efficiency":0.9}"#,
    },
    Described {
        ask: "passes",
        says: "The passes that a road takes: layers times ceil((W - o) / (Le - o)).",
        fields: &[
            ("road_width_m", "width of the road"),
            ("effective_m", "effective width"),
            (
                "overlap_m",
                "overlap of a pass with the one before, less than that",
            ),
            ("layers", "layers; may be left out: 1"),
        ],
        answers: &[("passes", "all of them"), ("per_layer", "for one layer")],
        example: r#"{"ask":"passes","road_width_m":7.0,"effective_m":3.2,"overlap_m":0.3,"layers":1}"#,
    },
    Described {
        ask: "finish_time",
        says: "When the work is done, with stops for oil and planned breaks.",
        fields: &[
            ("start", "RFC 3339"),
            ("hours", "hours of work"),
            ("stops", "stops for oil; may be left out: 0"),
            ("stop_min", "minutes a stop; may be left out: 10"),
            ("breaks", BREAKS),
        ],
        answers: &[("done", "RFC 3339")],
        example: r#"{"ask":"finish_time","start":"2026-07-01T07:00:00+03:00","hours":6.5,"stops":2,"breaks":[["2026-07-01T11:00:00+03:00","2026-07-01T11:30:00+03:00"]]}"#,
    },
    Described {
        ask: "oil_plan",
        says: "When the sockets fall due in a shift: before work starts, and then at equal parts of the working time. A break within a quarter interval attracts a due time.",
        fields: &[
            ("start", "RFC 3339; due times are written with its offset"),
            ("end", "RFC 3339, later"),
            ("breaks", BREAKS),
            ("per_shift", "oilings a shift, 1 to 255"),
            (
                "taken",
                "breaks as taken so far, the same way; may be left out: none",
            ),
            (
                "looks",
                "looks at the teeth: list of at and all_turned (false: stiff or stuck ones were found); may be left out: none",
            ),
            (
                "oiled",
                "list of moments at which the sockets were oiled; may be left out: none",
            ),
            (
                "now",
                "the moment for which to say what has become of each; may be left out",
            ),
        ],
        answers: &[
            ("due", "the due times"),
            (
                "worked_out",
                "what they would be if no break attracted them",
            ),
            ("interval_min", "usual minutes of working time between two"),
            (
                "standing",
                "null without now; else slots (due, status, at, by_min), next, extra and shortened",
            ),
        ],
        example: r#"{"ask":"oil_plan","start":"2026-07-01T07:00:00+03:00","end":"2026-07-01T15:30:00+03:00","breaks":[["2026-07-01T11:00:00+03:00","2026-07-01T11:30:00+03:00"]],"per_shift":3}"#,
    },
    Described {
        ask: "fit_line",
        says: "A straight line by least squares.",
        fields: &[
            ("x", "list of numbers, three or more"),
            ("y", "as many"),
            ("at", "list of x at which to predict; may be left out: none"),
            ("level", LEVEL),
        ],
        answers: &[
            ("slope", "of the line"),
            ("intercept", "of the line"),
            ("slope_sd", "standard deviation of the slope"),
            ("intercept_sd", "standard deviation of the intercept"),
            ("residual_sd", "standard deviation about the line"),
            ("r2", "coefficient of determination"),
            ("freedom", "degrees of freedom"),
            (
                "predict",
                "list of x, y, half_width (of a new point) and mean_half_width (of the line)",
            ),
        ],
        example: r#"{"ask":"fit_line","x":[0,1,2,3],"y":[1,3.1,4.9,7],"at":[4],"level":0.95}"#,
    },
    Described {
        ask: "wear",
        says: "How fast tips wear and how long the set lasts. Today is taken to be the day of the last reading.",
        fields: &[
            ("new_mm", "tip length when new, 1 to 200"),
            ("end_mm", "tip length when done"),
            (
                "readings",
                "list of hours (since the set was new) and mm; three different times or more",
            ),
            (
                "hours_per_day",
                "blade-hours a day, for dates; may be left out together with today",
            ),
            (
                "today",
                "ISO 8601 day; may be left out together with hours_per_day",
            ),
            ("level", LEVEL),
        ],
        answers: &[
            ("rate_mm_per_hour", "how fast"),
            ("rate_sd", "its standard deviation"),
            ("rate_interval", "[least, most]"),
            (
                "robust_rate_mm_per_hour",
                "by the median of all slopes between two readings",
            ),
            ("agrees", "whether that lies within the interval"),
            (
                "half_life_hours",
                "hours since new at which half of the tip is gone",
            ),
            (
                "half_life_interval",
                "[earliest, latest]; null where there is no end yet",
            ),
            ("half_life_date", "the day; only with today"),
            (
                "half_life_date_interval",
                "[earliest, latest]; only with today",
            ),
            ("end_hours", "hours since new at which the tip is done"),
            (
                "end_interval",
                "[earliest, latest]; null where there is no end yet",
            ),
            ("end_date", "the day; only with today"),
            ("end_date_interval", "[earliest, latest]; only with today"),
        ],
        example: r#"{"ask":"wear","new_mm":20,"end_mm":5,"readings":[{"hours":0,"mm":20},{"hours":40,"mm":18.1},{"hours":80,"mm":15.9}],"hours_per_day":6,"today":"2026-07-01"}"#,
    },
    Described {
        ask: "evenness",
        says: "How even the row is, which teeth are not like the others, and how it wears unevenly.",
        fields: &[(
            "row",
            "list of pos (from the left as seen from the cab, 1 to 400) and mm",
        )],
        answers: &[
            ("measured", "how many teeth"),
            ("mean_mm", "mean tip length"),
            ("spread_mm", "standard deviation"),
            ("range_mm", "longest less shortest"),
            ("median_mm", "median tip length"),
            (
                "robust_spread_mm",
                "median distance from the median, times 1.4826",
            ),
            (
                "outliers",
                "positions of teeth that are not like the others",
            ),
            ("outlying_teeth", "the same with mm, off_mm and times_sd"),
            (
                "pattern",
                "none, one_end, both_ends, middle, stuck_run, periodic, or too_few to tell",
            ),
            (
                "pattern_where",
                "what of it: end, first and last, every; and by how much shorter",
            ),
        ],
        example: r#"{"ask":"evenness","row":[{"pos":1,"mm":18.0},{"pos":2,"mm":17.8},{"pos":3,"mm":18.1}]}"#,
    },
    Described {
        ask: "match_spares",
        says: "Which spare fits where: the same kind and the same wear, most pairs first, then the least total difference.",
        fields: &[
            (
                "bad",
                "list of pos, kind (narrow_pointed, wide_pointed, wide_blunt) and mm (what the tip there should be)",
            ),
            ("spares", "list of id, kind and mm"),
            (
                "within_mm",
                "what counts as the same wear; may be left out: 2",
            ),
        ],
        answers: &[
            ("pairs", "list of pos, spare (its id) and off_mm"),
            ("unmatched", "positions without a spare"),
        ],
        example: r#"{"ask":"match_spares","bad":[{"pos":12,"kind":"wide_pointed","mm":14}],"spares":[{"id":"a","kind":"wide_pointed","mm":15}]}"#,
    },
    Described {
        ask: "spares_to_carry",
        says: "How many spares are enough for the hours ahead.",
        fields: &[
            ("broken", "teeth broken or lost so far"),
            ("hours", "in so many blade-hours"),
            ("ahead_hours", "blade-hours ahead"),
            ("confidence", LEVEL),
        ],
        answers: &[
            ("carry", "how many"),
            (
                "prior",
                "shape and hours of the gamma distribution believed before there is a record",
            ),
            ("expected", "breakages to expect on average"),
            ("not_enough", "probability that they are too few"),
        ],
        example: r#"{"ask":"spares_to_carry","broken":3,"hours":120,"ahead_hours":8,"confidence":0.95}"#,
    },
    Described {
        ask: "reorder",
        says: "Whether to order spares now.",
        fields: &[
            ("broken", "teeth broken or lost so far"),
            ("hours", "in so many blade-hours"),
            ("on_hand", "spares on hand"),
            ("lead_hours", "blade-hours until a delivery"),
            ("confidence", LEVEL),
        ],
        answers: &[
            ("point", "order when no more than this many are left"),
            ("order_now", "whether that is so"),
            ("below_by", "by how many the stock is below it"),
            (
                "runs_out",
                "probability that the stock runs out before a delivery ordered now",
            ),
            (
                "prior",
                "shape and hours of the gamma distribution believed before there is a record",
            ),
        ],
        example: r#"{"ask":"reorder","broken":3,"hours":120,"on_hand":6,"lead_hours":80}"#,
    },
    Described {
        ask: "cost",
        says: "What the edge cost, and per hour, kilometre and square metre of what was done. What is left out is nothing.",
        fields: &[
            ("teeth", "teeth used up; may be left out"),
            ("plates", "plates used up; may be left out"),
            ("oil_l", "litres of oil; may be left out"),
            ("tooth_price", "price of a tooth; may be left out"),
            ("plate_price", "price of a plate; may be left out"),
            ("litre_price", "price of a litre; may be left out"),
            (
                "blade_hours",
                "hours with the edge on the road; may be left out, though not together with the next two",
            ),
            ("worked_km", "kilometres worked; may be left out"),
            ("area_m2", "square metres worked; may be left out"),
        ],
        answers: &[
            ("teeth", "money"),
            ("plates", "money"),
            ("oil", "money"),
            ("total", "money"),
            ("per_hour", "money; null without hours"),
            ("per_km", "money; null without kilometres"),
            ("per_m2", "money; null without square metres"),
        ],
        example: r#"{"ask":"cost","teeth":10,"plates":1,"oil_l":4,"tooth_price":8,"plate_price":100,"litre_price":1.5,"blade_hours":20}"#,
    },
    Described {
        ask: "season",
        says: "The hours and sets that a season asks for, and by when to order.",
        fields: &[
            (
                "roads",
                "list of length_km, visits, hours_per_visit, wear_mm_per_hour and wear_sd (its standard deviation)",
            ),
            ("tip_mm", "what a new tip may lose"),
            (
                "left_mm",
                "what the tips on hand may still lose, all sets together; may be left out: 0",
            ),
            ("teeth_per_set", "teeth of a set"),
            ("confidence", LEVEL),
            ("hours_available", "hours that there are; may be left out"),
            (
                "first_use",
                "ISO 8601 day; may be left out together with the next two",
            ),
            ("lead_days", "days from order to delivery"),
            ("today", "ISO 8601 day"),
        ],
        answers: &[
            ("hours", "all roads"),
            ("road_hours", "each road"),
            ("wear_mm", "wear to expect"),
            ("wear_sd_mm", "its standard deviation"),
            ("sets_expected", "sets to expect, in parts"),
            ("sets_needed", "sets to have, at that confidence"),
            ("sets_to_order", "of these, what is not on hand"),
            ("teeth_to_order", "the same in teeth"),
            (
                "hours_over",
                "hours left over, negative where they are missing; null without hours_available",
            ),
            (
                "order",
                "by (a day) and days_left, negative where that is past; null without the days",
            ),
        ],
        example: r#"{"ask":"season","roads":[{"length_km":12,"visits":10,"hours_per_visit":40,"wear_mm_per_hour":0.05,"wear_sd":0.01}],"tip_mm":15,"left_mm":15,"teeth_per_set":96,"hours_available":480,"first_use":"2026-12-01","lead_days":30,"today":"2026-10-01"}"#,
    },
    Described {
        ask: "setup",
        says: "The whole set-up sheet. What is not known is left out, and the sheet is careful then.",
        fields: &[
            (
                "work",
                "packed_snow, packed_snow_on_soft, road_edge, gravel, tight_stone, stony_gravel, soft_milling, stone_base, rutted_pavement or path",
            ),
            (
                "moldboard_mm",
                "length of the moldboard; may be left out: 3657.6 (12 ft)",
            ),
            (
                "plates_mm",
                "one or two plate lengths; may be left out: 914.4 and 990.6",
            ),
            ("pitch_mm", "may be left out: 38.1"),
            ("surface_c", "temperature of the surface, not of the air"),
            ("soft", "true or false: whether the surfacing is soft"),
            ("layer_mm", "how thick the packed layer is"),
            (
                "skids",
                "true or false: whether the edge skids instead of biting",
            ),
            ("bite_mm", "what depth bites without skidding"),
            ("stones", "few or many"),
            ("moisture", "dusty or moist"),
            ("path_mm", "how wide the path is"),
            ("strip_mm", "how wide the hard strip along the edge is"),
            ("cutting_end", "left or right, as seen from the cab"),
        ],
        answers: &[
            ("verdict", "suits, with_care or do_not"),
            ("tooth_kinds", "kinds that suit, first choice first"),
            ("toothed_plates", "how many plates carry teeth"),
            ("plates", "of how many"),
            (
                "toothed_at",
                "their numbers from the left as seen from the cab",
            ),
            ("teeth", "teeth that work"),
            ("working_width_mm", "what they cover across the road"),
            ("bare_mm", "what no plate covers"),
            ("cutting_deg", "target, low and high"),
            (
                "grading_deg",
                "target, low and high, from the direction of travel",
            ),
            ("tracks_mm", "from track to track across the road"),
            ("layers", "how many"),
            ("layer_mm", "how thick each; null where that is not known"),
            ("oilings_per_shift", "low, planned and high"),
            ("oil", "fuel_oil; nothing thicker"),
            (
                "looks_per_interval",
                "looks at the teeth between two oilings",
            ),
            ("speed_at_most_kmh", "where a source says so; else null"),
            ("cautions", "sentences, what belongs to this work first"),
            ("lines", "list of what, why and basis"),
        ],
        example: r#"{"ask":"setup","work":"soft_milling","surface_c":12,"soft":true}"#,
    },
    Described {
        ask: "checklist",
        says: "What is gone through before the first cut and after the last.",
        fields: &[("list", "opening, closing or laying_up")],
        answers: &[("items", "list of what and basis")],
        example: r#"{"ask":"checklist","list":"opening"}"#,
    },
    Described {
        ask: "fuel_grade",
        says: "The least cold class of EN 590 whose filter-plugging limit reaches the lowest temperature: a yardstick, no promise.",
        fields: &[("lowest_c", "the lowest temperature to expect")],
        answers: &[
            (
                "class",
                "its letter, or its number for an arctic class; null where the standard lists none",
            ),
            ("limit_c", "its limit; null with the class"),
            (
                "arctic",
                "whether it is an arctic class; not there without a class",
            ),
            ("sentence", "only where the standard lists none"),
        ],
        example: r#"{"ask":"fuel_grade","lowest_c":-27}"#,
    },
];

/// The help as printed.
pub(crate) fn text() -> String {
    let mut text = String::from(
        "ask reads one JSON request per line from standard input and prints one JSON answer per line.\n\
         A line that gets no answer gets {\"error\": \"what is wrong, and what would be right\"}; where the rules\n\
         looked at it and refused, \"refused\" stands beside it with one word.\n",
    );
    for known in REQUESTS {
        let listed = |list: &[(&str, &str)]| -> String {
            let lines = list
                .iter()
                .map(|(name, means)| format!("    {name}: {means}"));
            lines.collect::<Vec<_>>().join("\n")
        };
        text.push_str(
            &[
                "",
                known.ask,
                &format!("  {}", known.says),
                &listed(known.fields),
                "  answers",
                &listed(known.answers),
                "  example",
                &format!("    {}", known.example),
                "",
            ]
            .join("\n"),
        );
    }
    text
}
