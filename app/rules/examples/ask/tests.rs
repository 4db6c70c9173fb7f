//! The door held against its own help, against the published values, and against nonsense.

use std::collections::BTreeSet;
use std::io::BufReader;

use evenrow_rules::setup::ToothKind;
use proptest::prelude::*;
use serde_json::{Map, Value, json};

use super::{answer, converse, help};

#[track_caller]
fn ask(request: &str) -> Value {
    answer(request.as_bytes())
}

#[track_caller]
fn near(got: &Value, expect: f64, within: f64) {
    let got = got.as_f64().unwrap_or(f64::NAN);
    assert!((got - expect).abs() <= within, "{got} instead of {expect}");
}

fn object(value: &Value) -> &Map<String, Value> {
    value.as_object().expect("an object")
}

/// The names that serde lists in "expected one of `a`, `b`", or "expected `a`".
fn expected_names(error: &str) -> BTreeSet<String> {
    let list = error.split("expected ").nth(1).unwrap_or_default();
    let list = list.split(" at line").next().unwrap_or_default();
    list.split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

fn error_of(answer: &Value) -> String {
    answer["error"].as_str().expect("an error").to_owned()
}

#[test]
fn the_help_lists_every_request_there_is_and_no_other() {
    let listed: BTreeSet<String> = help::REQUESTS.iter().map(|it| it.ask.to_owned()).collect();
    assert_eq!(
        expected_names(&error_of(&ask(r#"{"ask":"nonsense"}"#))),
        listed
    );
    assert!(
        help::REQUESTS
            .iter()
            .all(|it| help::text().contains(it.ask))
    );
}

#[test]
fn the_help_lists_every_field_of_every_request_and_no_other() {
    for known in help::REQUESTS {
        let fields: BTreeSet<String> = known
            .fields
            .iter()
            .map(|(name, _)| (*name).to_owned())
            .collect();
        let error = error_of(&ask(&format!(
            r#"{{"ask":"{}","no such field":1}}"#,
            known.ask
        )));
        assert_eq!(expected_names(&error), fields, "{}: {error}", known.ask);
    }
}

#[test]
fn every_example_of_the_help_gets_the_answer_that_the_help_describes() {
    for known in help::REQUESTS {
        let answer = ask(known.example);
        let got: BTreeSet<&str> = object(&answer).keys().map(String::as_str).collect();
        let described: BTreeSet<&str> = known.answers.iter().map(|(name, _)| *name).collect();
        let unless: BTreeSet<&str> = if known.ask == "fuel_grade" {
            ["sentence"].into()
        } else {
            BTreeSet::new()
        };
        let expect: BTreeSet<&str> = described.difference(&unless).copied().collect();
        assert_eq!(got, expect, "{}: {answer}", known.ask);
    }
}

#[test]
fn a_field_that_may_be_left_out_may_be_left_out() {
    for known in help::REQUESTS {
        let whole: Value = serde_json::from_str(known.example).unwrap();
        for (name, means) in known
            .fields
            .iter()
            .filter(|(_, it)| it.contains("may be left out"))
        {
            let mut request = whole.clone();
            request.as_object_mut().unwrap().remove(*name);
            let answer = ask(&request.to_string());
            // Fields that belong together may be left out together.
            if let Some(error) = answer.get("error") {
                assert!(
                    means.contains("together"),
                    "{} without {name}: {error}",
                    known.ask
                );
            }
        }
    }
}

#[test]
fn every_wrong_line_is_told_what_would_be_right() {
    let wrong = [
        "",
        "   ",
        "row_fit",
        "{",
        "[]",
        "null",
        r#"{"ask":7}"#,
        r#"{"moldboard_mm":3657.6}"#,
        r#"{"ask":"finish","pitch_mm":1e999,"grading_deg":60,"tip_radius_mm":20}"#,
        r#"{"ask":"row_fit","moldboard_mm":"12 ft","plates_mm":[914.4],"pitch_mm":38.1}"#,
        "{\"ask\":\"row_fit\",\"moldboard_mm\":3657.6,\"plates_mm\":[914.4],\"pitch_mm\":38.1} and more",
    ];
    for line in wrong {
        let answer = ask(line);
        assert_eq!(object(&answer).len(), 1, "{line}: {answer}");
        assert!(
            error_of(&answer).contains(r#"{"ask":""#),
            "{line}: {answer}"
        );
    }
    // A line that says what it asks is shown an example of that.
    assert!(
        error_of(&ask(r#"{"ask":"tilt"}"#))
            .contains(r#"right would be, for one, {"ask":"tilt","road":"#)
    );
    assert!(error_of(&answer(b"\xff\xfe{}")).contains("right would be"));
}

#[test]
fn a_number_out_of_its_range_is_named_with_the_range() {
    let sentence = |request| error_of(&ask(request));
    assert_eq!(
        sentence(r#"{"ask":"row_fit","moldboard_mm":100,"plates_mm":[914.4],"pitch_mm":38.1}"#),
        "moldboard_mm is 100; it has to lie between 1200 and 8000."
    );
    assert_eq!(
        sentence(r#"{"ask":"row_fit","moldboard_mm":3657.6,"plates_mm":[],"pitch_mm":38.1}"#),
        "plates_mm lists 0 lengths; list one or two."
    );
    assert_eq!(
        sentence(r#"{"ask":"passes","road_width_m":-1,"effective_m":3.2,"overlap_m":0.3}"#)
            .split(';')
            .next(),
        Some("road_width_m is -1")
    );
    assert_eq!(
        sentence(r#"{"ask":"effective_width","length_mm":3657.6,"grading_deg":91}"#),
        "grading_deg is 91; it has to lie between 0 (in line with the travel) and 90 (square across)."
    );
    assert!(
        sentence(r#"{"ask":"oil_plan","start":"yesterday","end":"x","per_shift":3}"#)
            .contains("RFC 3339")
    );
    assert!(
        sentence(
            r#"{"ask":"oil_plan","start":"2026-07-01T15:00:00Z","end":"2026-07-01T07:00:00Z","per_shift":3}"#
        )
        .contains("the end has to come later")
    );
    assert!(
        sentence(r#"{"ask":"setup","work":"ploughing"}"#)
            .contains("packed_snow, packed_snow_on_soft")
    );
}

/// Common practice, no published source: 96 teeth on a 12 ft board and 104 on one of 13 ft.
#[test]
fn the_full_rows_of_the_trade_come_out_of_the_door() {
    let fit = ask(help::REQUESTS[0].example);
    assert_eq!(fit["teeth"], 96);
    assert_eq!(fit["plates_mm"], json!([914.4, 914.4, 914.4, 914.4]));
    near(&fit["covered_mm"], 3657.6, 1e-9);
    near(&fit["bare_mm"], 0.0, 1e-9);
    let longer =
        r#"{"ask":"row_fit","moldboard_mm":3962.4,"plates_mm":[914.4,990.6],"pitch_mm":38.1}"#;
    assert_eq!(ask(longer)["teeth"], 104);
}

/// FM 5-434, chapter 4 (value from memory): 7.2464 + 4.5045 + 2.5773 h. Averaging the speeds would give another number.
#[test]
fn the_handbook_job_takes_its_hours() {
    let answer = ask(r#"{"ask":"work_time","efficiency":0.6,"legs":[
            {"passes":2,"distance_km":8.04672,"speed_kmh":3.7014912},
            {"passes":2,"distance_km":8.04672,"speed_kmh":5.9545728},
            {"passes":3,"distance_km":8.04672,"speed_kmh":15.6106368}]}"#);
    near(&answer["hours"], 14.328, 0.001);
    near(&answer["leg_hours"][0], 7.2464, 0.0001);
}

/// Identities of REFERENCES: 12 ft at 60 degrees from the travel is 12 ft times sin 60; round tip 5 mm, tracks 8 mm: 2 mm.
#[test]
fn widths_and_ridges_are_the_identities() {
    near(
        &ask(r#"{"ask":"effective_width","length_mm":3657.6,"grading_deg":60}"#)["width_mm"],
        10.392 * 304.8,
        0.2,
    );
    let finish = ask(r#"{"ask":"finish","pitch_mm":8,"grading_deg":90,"tip_radius_mm":5}"#);
    near(&finish["ridge_mm"], 2.0, 1e-12);
    near(&finish["spacing_mm"], 8.0, 1e-12);
    let apart = ask(r#"{"ask":"finish","pitch_mm":38.1,"grading_deg":90,"tip_flat_mm":19}"#);
    assert_eq!(apart["ridge_mm"], Value::Null);
    near(&apart["uncut_strip_mm"], 19.1, 1e-9);
}

/// K2b (house default): eight hours of work in three parts, with the lunch taken out.
#[test]
fn an_oil_plan_is_written_in_the_offset_in_which_it_was_asked() {
    let plan = ask(
        r#"{"ask":"oil_plan","start":"2026-07-01T07:00:00+03:00","end":"2026-07-01T15:30:00+03:00","breaks":[["2026-07-01T11:00:00+03:00","2026-07-01T11:30:00+03:00"]],"per_shift":3,"oiled":["2026-07-01T07:05:00+03:00","2026-07-01T10:00:00+03:00"],"now":"2026-07-01T12:00:00+03:00"}"#,
    );
    let due = json!([
        "2026-07-01T07:00:00+03:00",
        "2026-07-01T09:40:00+03:00",
        "2026-07-01T12:50:00+03:00"
    ]);
    assert_eq!(plan["due"], due);
    near(&plan["interval_min"], 160.0, 1e-9);
    let statuses: Vec<&Value> = plan["standing"]["slots"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| &it["status"])
        .collect();
    assert_eq!(statuses, ["done_on_time", "done_late", "ahead"]);
    near(&plan["standing"]["slots"][1]["by_min"], 20.0, 1e-9);
    let in_utc = ask(
        r#"{"ask":"oil_plan","start":"2026-07-01T07:00:00Z","end":"2026-07-01T15:00:00Z","per_shift":2}"#,
    );
    assert_eq!(
        in_utc["due"],
        json!(["2026-07-01T07:00:00Z", "2026-07-01T11:00:00Z"])
    );
}

/// TRADE 4b: with the prior Gamma(1, 8 h) and no record, four spares for eight hours at 95 %.
#[test]
fn without_a_record_four_spares_are_carried() {
    let carry =
        ask(r#"{"ask":"spares_to_carry","broken":0,"hours":0,"ahead_hours":8,"confidence":0.95}"#);
    assert_eq!(carry["carry"], 4);
    assert_eq!(carry["prior"], json!({ "shape": 1.0, "hours": 8.0 }));
}

#[test]
fn a_set_is_half_worn_on_a_day_with_an_interval_or_the_door_says_why_not() {
    let wear = |readings: &str| {
        ask(&format!(
            r#"{{"ask":"wear","new_mm":20,"end_mm":5,"readings":[{readings}],"hours_per_day":6,"today":"2026-07-01"}}"#
        ))
    };
    let known = wear(r#"{"hours":0,"mm":20},{"hours":50,"mm":17.5},{"hours":100,"mm":15}"#);
    near(&known["rate_mm_per_hour"], 0.05, 1e-12);
    near(&known["half_life_hours"], 150.0, 1e-9);
    // 50 hours ahead at six a day are 8.3 days.
    assert_eq!(known["half_life_date"], "2026-07-09");
    assert_eq!(
        wear(r#"{"hours":0,"mm":20},{"hours":50,"mm":17.5}"#)["refused"],
        "too_few"
    );
    assert_eq!(
        wear(r#"{"hours":0,"mm":20},{"hours":50,"mm":12},{"hours":60,"mm":18}"#)["refused"],
        "grew"
    );
}

#[test]
fn a_phone_that_moves_or_is_turned_gets_no_angle() {
    let tilt = |road: &str, blade: &str| {
        ask(&format!(
            r#"{{"ask":"tilt","road":[{road}],"blade":[{blade}]}}"#
        ))
    };
    let (flat, up) = ("[0,0,9.81]", "[0,7.515,6.306]");
    let three = |it: &str| [it, it, it].join(",");
    near(&tilt(&three(flat), &three(up))["angle_deg"], 50.0, 0.01);
    assert_eq!(
        tilt(&three(flat), &[up, up].join(","))["refused"],
        "too_few"
    );
    assert_eq!(
        tilt(&[flat, "[0,2,9.6]", flat].join(","), &three(up))["refused"],
        "not_still"
    );
    assert_eq!(
        tilt(&three(flat), &three("[5,5,6.8]"))["refused"],
        "not_aligned"
    );
    assert_eq!(tilt(&three(up), &three(flat))["refused"], "not_on_road");
    assert_eq!(
        tilt(&three("[0,0,1]"), &three(up))["refused"],
        "not_gravity"
    );
}

#[test]
fn a_phone_that_was_not_turned_end_for_end_gets_no_crossfall() {
    let crossfall = |one: &str, turned: &str| {
        let three = |it: &str| [it, it, it].join(",");
        let (one, turned) = (three(one), three(turned));
        ask(&format!(
            r#"{{"ask":"crossfall","one":[{one}],"turned":[{turned}]}}"#
        ))
    };
    let (one, turned) = ("[0,0.392,9.802]", "[0,-0.392,9.802]");
    near(&crossfall(one, turned)["fall_percent"], 4.0, 0.01);
    assert_eq!(crossfall(one, one)["refused"], "not_turned_round");
    let (steep, other) = ("[0,3,9.34]", "[0,-3,9.34]");
    assert_eq!(crossfall(steep, other)["refused"], "no_road");
    assert_eq!(crossfall(one, "[0,0,1]")["refused"], "not_gravity");
}

#[test]
fn every_work_has_a_whole_sheet_in_sentences_without_gaps() {
    let works = expected_works();
    assert_eq!(works.len(), 10);
    for work in works {
        for rest in [
            "",
            r#","surface_c":3,"soft":true"#,
            r#","surface_c":20,"soft":true,"cutting_end":"left""#,
            r#","soft":false,"layer_mm":120,"skids":true,"stones":"many","moisture":"moist","path_mm":2000,"strip_mm":1500"#,
            r#","skids":true,"bite_mm":20,"moisture":"dusty","path_mm":9000,"strip_mm":600"#,
        ] {
            let sheet = ask(&format!(r#"{{"ask":"setup","work":"{work}"{rest}}}"#));
            let lines = sheet["lines"].as_array().expect("lines");
            for line in lines {
                let why = line["why"].as_str().unwrap();
                assert!(
                    why.contains(' ') && !why.contains(['{', '}']),
                    "{work}{rest}: {line}"
                );
                assert!(!line["basis"].as_str().unwrap().is_empty());
            }
            for caution in sheet["cautions"].as_array().unwrap() {
                assert!(caution.as_str().unwrap().contains(' '), "{caution}");
            }
            assert!(sheet["plates"].as_u64() >= sheet["toothed_plates"].as_u64());
        }
    }
}

/// The works that a wrong one is answered with.
fn expected_works() -> Vec<String> {
    let error = error_of(&ask(r#"{"ask":"setup","work":""}"#));
    let list = error.split("one of ").nth(1).unwrap().trim_end_matches('.');
    list.split(", ").map(str::to_owned).collect()
}

#[test]
fn the_sheet_names_tooth_kinds_as_the_spares_do() {
    let sheet = ask(r#"{"ask":"setup","work":"soft_milling","surface_c":12,"soft":true}"#);
    assert_eq!(sheet["verdict"], "with_care");
    assert_eq!(
        sheet["tooth_kinds"],
        json!(["narrow_pointed", "wide_pointed"])
    );
    assert_eq!(
        (&sheet["toothed_plates"], &sheet["plates"]),
        (&json!(1), &json!(4))
    );
    for kind in ToothKind::ALL {
        let word = super::answers::kind_word(kind);
        let request = format!(
            r#"{{"ask":"match_spares","bad":[{{"pos":1,"kind":"{word}","mm":14}}],"spares":[{{"id":"a","kind":"{word}","mm":15}}]}}"#
        );
        assert_eq!(ask(&request)["pairs"][0]["spare"], "a");
    }
}

/// EN 590 (seen in secondary tables): arctic class 2 reaches -32; no class reaches -45.
#[test]
fn beyond_the_last_class_a_sentence_says_so() {
    let known = ask(r#"{"ask":"fuel_grade","lowest_c":-27}"#);
    assert_eq!(
        (&known["class"], &known["limit_c"]),
        (&json!("2"), &json!(-32.0))
    );
    let none = ask(r#"{"ask":"fuel_grade","lowest_c":-45}"#);
    assert_eq!(none["class"], Value::Null);
    assert!(
        none["sentence"]
            .as_str()
            .unwrap()
            .contains("no class that cold")
    );
}

#[test]
fn there_is_one_answer_for_each_line_whatever_stands_in_it() {
    let mut said = Vec::new();
    let questions = b"{\"ask\":\"fuel_grade\",\"lowest_c\":-27}\n\n\xff\xff\n{\"ask\":\"fuel_grade\",\"lowest_c\":-45}";
    converse(&mut BufReader::new(&questions[..]), &mut said).unwrap();
    let lines: Vec<Value> = std::str::from_utf8(&said)
        .unwrap()
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(lines.len(), 4);
    assert_eq!(lines[0]["class"], "2");
    assert!(lines[1].get("error").is_some() && lines[2].get("error").is_some());
}

#[test]
fn a_line_of_many_megabytes_gets_one_answer_and_the_next_line_another() {
    let mut questions = vec![b'x'; 20 * 1024 * 1024];
    questions.extend_from_slice(b"\n{\"ask\":\"fuel_grade\",\"lowest_c\":0}\n");
    let mut said = Vec::new();
    converse(&mut BufReader::new(&questions[..]), &mut said).unwrap();
    let said = String::from_utf8(said).unwrap();
    assert_eq!(said.lines().count(), 2);
    assert!(said.lines().next().unwrap().contains("longer than"));
    assert!(said.lines().nth(1).unwrap().contains(r#""class":"B""#));
}

/// Any JSON at all, with the words of the requests in it more often than chance would have them.
fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        (-1e4..1e4).prop_map(Value::from),
        (0..500_u32).prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        "[a-z_]{0,9}".prop_map(Value::from),
        Just(json!("2026-07-01T07:00:00+03:00")),
        Just(json!("wide_pointed")),
    ];
    leaf.prop_recursive(3, 24, 6, |inner| {
        let names =
            prop::sample::select(vec!["pos", "mm", "kind", "id", "hours", "at", "all_turned"]);
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map(names.prop_map(str::to_owned), inner, 0..4)
                .prop_map(|it| Value::Object(it.into_iter().collect())),
        ]
    })
}

proptest! {
    #[test]
    fn any_bytes_get_an_answer(line in prop::collection::vec(any::<u8>(), 0..200)) {
        let answer = answer(&line);
        prop_assert!(answer.is_object());
    }

    #[test]
    fn any_request_with_any_values_gets_an_answer_or_a_sentence(
        which in prop::sample::select(help::REQUESTS.iter().collect::<Vec<_>>()),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any_json()), 1..4),
    ) {
        let mut request: Value = serde_json::from_str(which.example).unwrap();
        for (at, value) in changes {
            let (name, _) = which.fields[at.index(which.fields.len())];
            request[name] = value;
        }
        let answer = ask(&request.to_string());
        prop_assert!(answer.is_object());
        if let Some(error) = answer.get("error") {
            let sentence = error.as_str().unwrap_or_default();
            prop_assert!(sentence.contains(' ') && 20 < sentence.len(), "{}: {}", request, sentence);
        }
    }
}
