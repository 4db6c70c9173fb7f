//! The keys: each with the placeholders that its text must have. Adding one here makes it a method of [`Words`], and the
//! tests then ask for it in every file of `public/words`.

use super::Words;

/// Makes each key a method, and the list of all keys.
macro_rules! table {
    ($($key:ident($($placeholder:ident),*);)+) => {
        impl Words {
            $(
                pub fn $key(&self, $($placeholder: &str),*) -> String {
                    self.fill(stringify!($key), &[$((stringify!($placeholder), $placeholder)),*])
                }
            )+
        }

        /// Every key with its placeholders.
        #[cfg(test)]
        pub(super) const TABLE: &[(&str, &[&str])] =
            &[$((stringify!($key), &[$(stringify!($placeholder)),*])),+];
    };
}

table! {
    // The shell
    tabs();
    tab_shift();
    tab_setup();
    tab_book();
    to_sun();
    to_night();
    undo();
    kept(what);
    keeping();
    not_kept(said);
    try_again();
    understood();
    keep();
    update_waits();
    update_now();
    keeping_promised();
    keeping_best_effort();
    keeping_weak();
    keeping_unknown();

    // Units
    millimetres(number);
    inches(number);
    metres(number);
    feet(number);
    celsius(number);
    fahrenheit(number);
    kilometres_per_hour(number);
    miles_per_hour(number);
    degrees(number);
    minutes(minutes);
    hours(hours);
    hours_minutes(hours, minutes);
    span(from, to);
    at_most(speed);
    step_less(label);
    step_more(label);

    // First start
    first_title();
    first_lead();
    units_ask();
    units_metric();
    units_us();
    board_ask();
    board_usual(feet, metres);
    board_other();
    board_typed_metres();
    board_typed_feet();
    board_not_picked();
    board_not_metres();
    board_not_feet();
    usual_ask();
    shift_start();
    shift_end();
    shift_end_day();
    same_day();
    next_day();
    rest_length();
    not_a_time();
    rest_none();
    rest_start();
    first_done();
    machine_first_name();
    machine_unnamed();

    // Shift
    start_title();
    start_lead();
    start_action();
    last_report();
    work_not_chosen();
    oiled_of(done, all);
    oiled_of_late(done, all, late);
    now_at(clock);
    shift_line_told(done, all, start, end);
    choose_setup_title();
    choose_setup_lead();
    choose_setup_action();
    oil_title();
    oil_all_done();
    oil_until_end(end);
    oiled_now();
    due_now();
    due_at(clock);
    at_time(clock);
    late();
    on_break_title();
    on_break_since(clock);
    end_break();
    look_title();
    look_now();
    look_in(time);
    all_turning();
    some_not();
    start_break();
    change_work();
    write_note();
    opening_tally(done, all);
    end_of_shift();
    promise_title();
    to_reminders();
    can_sound();
    sound_locked();
    sound_missing();
    can_stay_awake();
    may_go_dark();
    cannot_stay_awake();
    locked_unknown();
    locked_silent();
    locked_rang(day);
    locked_rang_late(seconds, day);
    reminders_title();
    try_sound_title();
    try_gentle();
    try_strong();
    sound_note();
    check_title();
    check_lead();
    check_begin();
    check_lock_now(seconds);
    check_stop();
    check_heard();
    check_was_not_locked();
    calendar_title();
    calendar_lead();
    calendar_none();
    calendar_next();
    calendar_shift();
    calendar_large();
    calendar_fresh(times);
    calendar_stale(times);
    calendar_handed();
    calendar_refused();
    calendar_description();
    notifications_title();
    notifications_on();
    notifications_off();
    notifications_missing();
    notifications_not_asked();
    notifications_ask();
    notify_next(clock);
    notify_due(clock);
    notify_body();
    put_off(minutes);
    heard_soon(clock);
    heard_due(clock);
    heard_late(clock);
    was_asleep(from, to, times);
    was_asleep_done(from, to);
    open_missed(clock);
    open_late(clock, late);
    clock_question(jumped);
    clock_follow();
    clock_leave();
    back_to_shift();
    oil_more_often();
    keep_usual_interval();
    some_not_title();
    count_stiff();
    count_stuck();
    count_broken();
    some_not_advice();
    note_title();
    note_label();
    closing_open(open);
    end_shift();

    // Setup
    setup_title();
    group_winter();
    group_gravel();
    group_other();
    work_packed_snow();
    work_packed_snow_on_soft();
    work_road_edge();
    work_gravel();
    work_tight_stone();
    work_stony_gravel();
    work_soft_milling();
    work_stone_base();
    work_rutted_pavement();
    work_path();
    ask_surface();
    ask_soft();
    ask_layer();
    ask_skids();
    ask_bite();
    ask_stones();
    ask_moisture();
    ask_path();
    ask_strip();
    ask_cutting_end();
    answer_unknown();
    answer_yes();
    answer_no();
    answer_soft();
    answer_stiff();
    answer_dusty();
    answer_moist();
    answer_many();
    answer_few();
    answer_right();
    answer_left();
    verdict_suits();
    verdict_with_care();
    verdict_do_not();
    cutting_angle();
    grading_angle();
    line_teeth();
    line_plates();
    line_tracks();
    line_layers();
    line_oil();
    line_oil_kind();
    line_looks();
    line_speed();
    angle_band(target, low, high);
    tracks_apart(distance);
    tooth_narrow_pointed();
    tooth_wide_pointed();
    tooth_wide_blunt();
    or_else(first, second);
    end_left();
    end_right();
    plates_none();
    plates_all(all, teeth);
    plates_one(number, all, teeth);
    plates_some(numbers, all, teeth);
    layers_one();
    layers_some(count);
    layers_each(count, each);
    oilings_one();
    oilings_some(count);
    fuel_oil();
    looks_per_interval(count);
    use_setup();
    start_first();
    other_work();
    beware();
    beware_more();
    units_note(units);

    // Reasons
    why_snow_is_its_best_work();
    why_few_teeth_bite_hard_edge();
    why_gravel_loosens_easily();
    why_many_stones();
    why_plain_edge_fails_on_tight_stone();
    why_thin_top_over_stones();
    why_surface_warm(surface, limit);
    why_surface_cool(surface, limit);
    why_surface_cold(surface, limit);
    why_surface_unknown();
    why_surfacing_soft();
    why_surfacing_stiff();
    why_surfacing_unknown();
    why_stone_base_suits();
    why_angles_and_pressure_decide();
    why_path_suits();
    why_soft_to_be_kept(limit);
    why_perhaps_soft(limit);
    why_room_under_limit(target);
    why_most_carbide_on_surface(usual);
    why_room_either_side(low, high);
    why_stones_want_lower(usual);
    why_no_number_in_the_trade(target);
    why_skew_turns_the_teeth(limit);
    why_turning_picks_last();
    why_gravel_manuals_skew(low, high);
    why_wide_flange_guards();
    why_wide_on_tight_stone();
    why_milling_wants_points();
    why_order_is_ours();
    why_full_row(teeth, moldboard);
    why_one_plate_only();
    why_strip_needs_two(strip, one_plate);
    why_strip_fits_one(strip, one_plate);
    why_strip_unknown();
    why_at_the_cutting_end(end);
    why_cutting_end_assumed(end);
    why_narrowed_to_path(path, working);
    why_path_takes_full_row(path);
    why_path_unknown();
    why_in_the_middle();
    why_not_to_be_done();
    why_one_layer_bites();
    why_skids_so_less(bite);
    why_thicker_than_bite(layer, bite);
    why_bite_guessed(bite);
    why_layer_unknown();
    why_no_layers();
    why_gravel_wants_more_oil();
    why_oil_daily();
    why_dusty();
    why_moist();
    why_perhaps_dusty();
    why_second_oiling_is_ours();
    why_thicker_stops_the_tooth();
    why_gravel_manuals_speed(most);
    why_pitch_times_sine(pitch, grading);
    why_look_twice_per_interval();

    // Cautions
    beware_make_it_safe_first();
    beware_never_backwards();
    beware_watch_down_pressure();
    beware_pavement_can_be_harmed();
    beware_small_errors_show();
    beware_measure_the_surface();
    beware_try_the_surfacing();
    beware_skidding_means_less();
    beware_stones_mean_lower();
    beware_keep_them_turning();
    beware_best_worked_moist();
    beware_say_which_end_cuts();
    beware_measure_the_path();
    beware_clearance_as_usual();
    beware_cool_before_oiling();
    beware_catch_drips();
    beware_eye_protection();
    beware_traffic_protection();
    beware_mark_the_frame();
    beware_others_decide();
    beware_phone();

    // Bases
    basis_common_practice();
    basis_published(title, published);
    basis_published_from_memory(title, published);
    basis_geometry();
    basis_house_default();
    bases_title();
    bases_common_practice();
    bases_published_name();
    bases_published();
    bases_geometry();
    bases_house_default();

    // Checklists
    list_opening();
    list_closing();
    item_machine_safe();
    item_row_complete();
    item_teeth_turn();
    item_plates_tight();
    item_angles_set();
    item_spares_aboard();
    item_oil_aboard();
    item_traffic_ready();
    item_bad_teeth_replaced();
    item_sockets_clean();
    item_sockets_oiled();
    item_spills_taken();
    item_handed_over();

    // What happened
    done_machine(name);
    done_usual_shift();
    done_shift_started();
    done_setup(work);
    done_ticked(item);
    done_unticked(item);
    done_oiled();
    done_break_started();
    done_break_ended();
    done_noted();
    done_put_off(minutes);
    done_usual_interval_kept();
    done_was_blind(from, to);
    clock_went_back(by);
    clock_went_forward(by);
    done_times_moved();
    done_times_left();
    done_shift_ended();
    done_struck();
    found_all_turning();
    found_stiff(count);
    found_stuck(count);
    found_broken(count);

    // Why something was refused
    refused_newer_records();
    refused_name_empty();
    refused_name_too_long(got, most);
    refused_no_machine();
    refused_ends_before_it_starts(end, start);
    refused_shift_too_long(got, most);
    refused_too_little_work(got, least);
    refused_break_outside(start, end);
    refused_shift_runs(since);
    refused_no_shift();
    refused_not_to_be_done();
    refused_on_break(since);
    refused_not_on_break();
    refused_finding_empty();
    refused_finding_too_many(got, most);
    refused_note_empty();
    refused_note_too_long(got, most);
    refused_nothing_to_strike();
    refused_nothing_to_answer();
    refused_moldboard(got, min, max);
    refused_plate(got, min, max);
    refused_pitch(got, min, max);
    refused_length(min, max);
    refused_temperature();
    refused_angle();

    // Report
    report_heading(name, date);
    report_shift();
    report_setups();
    report_oiling();
    report_looks();
    report_notes();
    report_machine(name, board);
    report_planned(span);
    report_ended(at);
    report_running();
    report_worked(time);
    report_break(span);
    report_break_planned(span);
    report_setup(work, verdict, teeth, plates, cutting, grading);
    report_no_setups();
    report_oilings(planned, on_time, late, missed);
    oiled_on_time(due, at);
    oiled_early(due, at, by);
    oiled_late(due, at, by);
    oiled_missed(due);
    oiling_due(due);
    oiling_late(due, by);
    oiled_extra(at);
    report_no_looks();
    report_no_notes();
    report_ticked(done, all);
    report_not_ticked(item);
    report_foot();
    report_not_found();
    timed(at, what);
    share();
    copy();
    copied();
    copy_refused();

    // Book
    book_title();
    book_empty();
    shift_on(day, start, end);
    to_book();
    records_title();
    records_note();
    records_unreadable(count);
    copy_records();

    // Machine
    machine_title();
    machine_name();
    row_fits(plates, teeth, bare);
    plates_and_pitch();
    plates_note();
    plate_short();
    plate_long();
    pitch();
    this_phone();
    theme_ask();
    theme_auto();
    theme_sun();
    theme_night();
}
