//! The books over time: what was done and used, by machine, road, work and week, what it cost, and whether oiling on time
//! helps here.

use std::collections::BTreeMap;

use evenrow_journal::Command;
use evenrow_journal::books::{HelpTold, OilingHelp, Piece, Tally, by, sum};
use evenrow_journal::command::PricesAsked;
use evenrow_journal::event::PriceList;
use evenrow_rules::cost::Money;
use evenrow_rules::proportion::Share;
use evenrow_rules::quantity::{Distance, Hours, Instant};
use evenrow_rules::source::{Basis, Source};
use evenrow_rules::work::Work;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::row_answers::sure;
use crate::device::clock;
use crate::device::preferences;
use crate::parts::bars::{Bar, Bars, BarsView};
use crate::parts::choice::Choice;
use crate::parts::field::{Field, Keyboard};
use crate::parts::terms::Terms;
use crate::shell::App;
use crate::units::{Quantity, System, Units};
use crate::words::numbers::{GALLON_L, MILE_KM, SQUARE_YARD_M2, decimal, parse_thousandths};
use crate::words::times;

/// Which time is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum Period {
    Week,
    Month,
    Season,
    All,
}

/// What sums are made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum Each {
    Machine,
    Road,
    Work,
    Week,
}

const PERIODS: [Period; 4] = [Period::Week, Period::Month, Period::Season, Period::All];

const EACH: [Each; 4] = [Each::Machine, Each::Road, Each::Work, Each::Week];

/// What is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Asked {
    period: Period,
    each: Each,
}

/// The screen.
#[component]
pub fn Books(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let asked = RwSignal::new(preferences::draft::<Asked>("books").unwrap_or(Asked {
        period: Period::Season,
        each: Each::Road,
    }));
    let change = move |change: &dyn Fn(&mut Asked)| {
        asked.update(|asked| change(asked));
        preferences::set_draft("books", &asked.get_untracked());
    };
    let now = move || app.vigil.minute().get();
    let all = Memo::new(move |_| {
        let now = now();
        app.state().with(|state| state.pieces(now))
    });
    let since = Memo::new(move |_| {
        let now = now();
        let today = times::day(now, clock::offset_minutes(now));
        match asked.get().period {
            Period::Week => times::midnight(times::monday(today)),
            Period::Month => times::midnight(times::first_of_month(today)),
            Period::Season => {
                let began = app.state().with(|state| state.season_began(now));
                began.unwrap_or(now)
            }
            Period::All => Instant::from_unix_ms(i64::MIN),
        }
    });
    let pieces = Memo::new(move |_| {
        let since = since.get();
        all.with(|all| {
            let within = all.iter().filter(|piece| since <= piece.start);
            within.cloned().collect::<Vec<Piece>>()
        })
    });
    let is_empty = Memo::new(move |_| pieces.with(Vec::is_empty));
    let parts = Memo::new(move |_| pieces.with(|pieces| parts(app, asked.get().each, pieces)));
    let chart = Memo::new(move |_| parts.with(|parts| chart(app, parts)));
    let tally = move |tally: &Tally| {
        let prices = app.state().with(|state| state.prices.clone());
        view! { <Terms terms=terms(app, tally, prices.as_ref())/> }
    };
    // By its place, so that what is open stays open while a running shift adds to it.
    let part = move |at: usize| {
        let name = move || parts.with(|parts| parts.get(at).map(|(name, _)| name.clone()));
        view! {
            <details class="books-part books-fold" open=at == 0>
                <summary>{name}</summary>
                {move || parts.with(|parts| parts.get(at).map(|(_, sum)| tally(sum)))}
            </details>
        }
    };
    let count = Memo::new(move |_| parts.with(Vec::len));
    let has_prices = Memo::new(move |_| app.state().with(|state| state.prices.is_some()));
    view! {
        <h1 tabindex="-1">{words.books_title()}</h1>
        <Choice
            label=words.books_period()
            options=vec![words.books_week(), words.books_month(), words.books_season(), words.books_all()]
            chosen=Signal::derive(move || PERIODS.iter().position(|it| *it == asked.get().period))
            on_pick=Callback::new(move |at: usize| {
                let picked = PERIODS.get(at).copied();
                change(&|asked| asked.period = picked.unwrap_or(asked.period));
            })
        />
        {move || if is_empty.get() {
            view! { <p class="books-empty">{words.books_empty()}</p> }.into_any()
        } else {
            view! {
                <section class="books-part books-whole">
                    <h2>{words.books_whole()}</h2>
                    {move || pieces.with(|pieces| tally(&sum(pieces)))}
                    <p class="small">
                        {if has_prices.get() { words.books_cost_note() } else { words.books_no_prices() }}
                    </p>
                </section>
            }
            .into_any()
        }}
        <details class="books-prices">
            <summary>{words.prices_title()}</summary>
            <PriceForm app/>
        </details>
        <Show when=move || !is_empty.get()>
            <Choice
                label=words.books_by()
                options=vec![words.books_machine(), words.books_road(), words.books_work(), words.books_weeks()]
                chosen=Signal::derive(move || EACH.iter().position(|it| *it == asked.get().each))
                on_pick=Callback::new(move |at: usize| {
                    let picked = EACH.get(at).copied();
                    change(&|asked| asked.each = picked.unwrap_or(asked.each));
                })
            />
            <h2>{words.books_hours()}</h2>
            <Bars shown=chart/>
            <div class="books-folds">{move || (0..count.get()).map(part).collect_view()}</div>
            <Help app since/>
        </Show>
        <a class="action" href="#book">{words.book_title()}</a>
    }
}

/// The sums of the parts with their names: weeks in order, the others with the most hours first.
fn parts(app: App, each: Each, pieces: &[Piece]) -> Vec<(String, Tally)> {
    let words = app.words;
    let named = |sums: BTreeMap<String, Tally>| {
        let mut parts: Vec<(String, Tally)> = sums.into_iter().collect();
        parts.sort_by_key(|(_, sum)| core::cmp::Reverse(sum.blade_time));
        parts
    };
    match each {
        Each::Machine => named(by(pieces, |piece| {
            let name = piece.machine.as_ref().and_then(|id| {
                app.state()
                    .with(|state| state.machine(id).map(|it| it.name.clone()))
            });
            name.unwrap_or_else(|| words.books_no_machine())
        })),
        Each::Road => named(by(pieces, |piece| {
            piece.road.clone().unwrap_or_else(|| words.books_no_road())
        })),
        Each::Work => named(by(pieces, |piece| {
            let work: Option<Work> = piece.work;
            work.map_or_else(|| words.books_no_work(), |work| words.work(work))
        })),
        Each::Week => {
            let week = |piece: &Piece| {
                let day = times::day(piece.start, clock::offset_minutes(piece.start));
                times::monday(day)
            };
            let weeks = by(pieces, week).into_iter();
            weeks
                .map(|(day, sum)| (words.books_week_from(&times::date_of(day)), sum))
                .collect()
        }
    }
}

fn blade_hours(app: App, tally: &Tally) -> String {
    let hours = Hours::of(tally.blade_time).in_hours();
    app.words.hours_with_tenths(hours)
}

fn chart(app: App, parts: &[(String, Tally)]) -> BarsView {
    let words = app.words;
    let most = parts.iter().map(|(_, it)| it.blade_time).max();
    let most = most.unwrap_or_default().as_secs_f64().max(1.0);
    let bars: Vec<Bar> = parts
        .iter()
        .map(|(name, sum)| Bar {
            name: name.clone(),
            value: blade_hours(app, sum),
            length: sum.blade_time.as_secs_f64() / most,
            may_be: None,
        })
        .collect();
    let told: Vec<String> = bars
        .iter()
        .map(|bar| words.books_bar_told(&bar.name, &bar.value))
        .collect();
    BarsView {
        bars,
        told: words.books_chart_told(&told.join(", ")),
    }
}

/// A tally in words.
fn terms(app: App, tally: &Tally, prices: Option<&PriceList>) -> Vec<(String, String)> {
    let (words, units) = (app.words, app.units.get());
    let share = |part: u32, all: u32| {
        if all == 0 {
            return words.books_none_yet();
        }
        let per_cent = f64::from(part) / f64::from(all) * 100.0;
        let per_cent = words.in_per_cent(&decimal(per_cent, 0));
        words.books_share(&part.to_string(), &all.to_string(), &per_cent)
    };
    let road = Distance::kilometres(tally.kilometres).unwrap_or(Distance::ZERO);
    let mut done = if tally.kilometres > 0.0 {
        words.distance(road, units)
    } else {
        words.books_none_ticked()
    };
    if 0.0 < tally.square_metres {
        done = words.books_area(&done, &words.area(tally.square_metres, units));
    }
    if 0 < tally.without_width {
        done = words.books_without_width(&done, &tally.without_width.to_string());
    }
    let teeth = |number: f64| decimal(number, 1);
    let mut terms = vec![
        (words.books_hours(), blade_hours(app, tally)),
        (words.books_done(), done),
        (
            words.books_teeth(),
            words.books_teeth_of(
                &teeth(tally.teeth()),
                &teeth(tally.worn),
                &teeth(tally.cut_short),
                &tally.replaced.to_string(),
            ),
        ),
    ];
    if !tally.unmeasured.is_zero() {
        let hours = Hours::of(tally.unmeasured).in_hours();
        let hours = words.hours_with_tenths(hours);
        terms.push((words.books_unmeasured(), words.books_unmeasured_of(&hours)));
    }
    terms.push((words.books_oiling(), share(tally.on_time, tally.due)));
    terms.push((words.books_stuck(), share(tally.stuck, tally.looks)));
    if let Some(prices) = prices {
        terms.push((words.books_cost(), cost_told(app, tally, prices)));
    }
    terms
}

/// What it cost in all, an hour, a kilometre and a square metre, as far as that was recorded.
fn cost_told(app: App, tally: &Tally, prices: &PriceList) -> String {
    let (words, units) = (app.words, app.units.get());
    let Ok(cost) = tally.cost(prices) else {
        return words.books_none_yet();
    };
    let money = |amount: f64, places: u32| {
        let amount = decimal(amount, places);
        if prices.money.is_empty() {
            amount
        } else {
            words.money_of(&amount, &prices.money)
        }
    };
    let plain = |it: Money| money(it.in_own_money(), 2);
    let rates = [
        cost.per_hour
            .map(|it| words.books_per_hour(&money(it.in_own_money(), 2))),
        cost.per_kilometre.map(|it| match units.of(Quantity::Road) {
            System::Metric => words.books_per_km(&money(it.in_own_money(), 2)),
            System::Us => words.books_per_mile(&money(it.in_own_money() * MILE_KM, 2)),
        }),
        cost.per_square_metre
            .map(|it| match units.of(Quantity::Road) {
                System::Metric => words.books_per_m2(&money(it.in_own_money(), 5)),
                System::Us => words.books_per_yd2(&money(it.in_own_money() * SQUARE_YARD_M2, 5)),
            }),
    ];
    let rates: Vec<String> = rates.into_iter().flatten().collect();
    let total = words.books_cost_total(&plain(cost.total), &plain(cost.teeth), &plain(cost.oil));
    format!("{total}; {}", rates.join(", "))
}

/// Whether oiling on time helps here.
#[component]
fn Help(
    /// What every screen is handed.
    app: App,
    /// Since when the shifts are looked at.
    since: Memo<Instant>,
) -> impl IntoView {
    let words = app.words;
    let help = Memo::new(move |_| {
        let (since, sure) = (since.get(), sure()?);
        let now = app.now.get_untracked();
        app.state()
            .with(|state| Some(state.oiling_help(since, now, sure)))
    });
    let picture = Memo::new(move |_| help.get().map(|it| help_view(app, &it)).unwrap_or_default());
    // Where nothing can be told, nothing is drawn either.
    let tells = move || {
        let told = help.get().map(|it| it.told);
        matches!(told, Some(HelpTold::Helps(_) | HelpTold::Worse(_)))
    };
    view! {
        <section class="books-part books-help">
            <h2>{words.help_title()}</h2>
            <p class="help-told">{move || help.get().map(|it| help_told(app, &it))}</p>
            <Show when=tells><Bars shown=picture/></Show>
            <p class="small">
                {words.help_basis()} " "
                <small class="basis">{words.basis(Basis::Published(Source::Newcombe1998))}</small>
            </p>
        </section>
    }
}

fn help_view(app: App, help: &OilingHelp) -> BarsView {
    let words = app.words;
    let of = |share: Share| words.help_of(&share.seen().to_string(), &share.of().to_string());
    let bar = |name: String, share: Share| Bar {
        name,
        value: of(share),
        length: share.get().unwrap_or(0.0),
        may_be: sure().and_then(|sure| share.interval(sure)),
    };
    BarsView {
        bars: vec![
            bar(words.help_kept(), help.kept),
            bar(words.help_let_slide(), help.let_slide),
        ],
        told: words.help_told(
            &words.help_kept(),
            &of(help.kept),
            &words.help_let_slide(),
            &of(help.let_slide),
        ),
    }
}

fn help_told(app: App, help: &OilingHelp) -> String {
    let words = app.words;
    let of_100 = |share: f64| decimal(share * 100.0, 0);
    match help.told {
        HelpTold::Helps(found) => {
            words.help_helps(&of_100(found.seen), &of_100(found.low), &of_100(found.high))
        }
        HelpTold::Worse(found) => words.help_worse(
            &of_100(-found.seen),
            &of_100(-found.high),
            &of_100(-found.low),
        ),
        HelpTold::TooFew { wanted } => words.help_too_few(&wanted.to_string()),
        HelpTold::CannotTell { may_be, enough } => {
            let (low, high) = (of_100(may_be.low), of_100(may_be.high));
            match enough {
                Some(enough) => words.help_cannot(&low, &high, &enough.to_string()),
                None => words.help_cannot_ever(&low, &high),
            }
        }
    }
}

/// Prices as they are typed, in the units of the phone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
struct Form {
    money: String,
    tooth: String,
    litre: String,
    oiling: String,
}

/// What cannot be read as a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wrong {
    Tooth,
    Litre,
    Oiling,
}

/// Litres in the unit that oil is bought in.
fn oil_unit(units: Units) -> f64 {
    match units.of(Quantity::Oil) {
        System::Metric => 1.0,
        System::Us => GALLON_L,
    }
}

impl Form {
    fn of(prices: &PriceList, units: Units) -> Form {
        let unit = oil_unit(units);
        // A price is kept in thousandths a litre: those of a gallon are finer than that.
        let places = match units.of(Quantity::Oil) {
            System::Metric => 3,
            System::Us => 2,
        };
        Form {
            money: prices.money.clone(),
            tooth: decimal(prices.tooth.in_own_money(), 3),
            litre: decimal(prices.litre.in_own_money() * unit, places),
            oiling: decimal(prices.an_oiling.in_litres() / unit, 3),
        }
    }

    fn asked(&self, units: Units) -> Result<PricesAsked, Wrong> {
        let number = |text: &str, wrong| {
            let thousandths = parse_thousandths(text).ok_or(wrong)?;
            Ok(thousandths as f64 / 1000.0)
        };
        let unit = oil_unit(units);
        Ok(PricesAsked {
            money: self.money.clone(),
            tooth: number(&self.tooth, Wrong::Tooth)?,
            litre: number(&self.litre, Wrong::Litre)? / unit,
            an_oiling: number(&self.oiling, Wrong::Oiling)? * unit,
        })
    }
}

#[component]
fn PriceForm(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get_untracked();
    let known = app
        .state()
        .with_untracked(|state| state.prices.as_ref().map(|it| Form::of(it, units)));
    let form = RwSignal::new(
        preferences::draft::<Form>("prices")
            .or(known)
            .unwrap_or_default(),
    );
    let wrong = RwSignal::new(None::<Wrong>);
    let change = move |change: &dyn Fn(&mut Form)| {
        form.update(|form| change(form));
        preferences::set_draft("prices", &form.get_untracked());
        wrong.set(None);
    };
    let keep = move |_| match form.with_untracked(|form| form.asked(units)) {
        Err(why) => wrong.set(Some(why)),
        Ok(asked) => app.desk.submit_then(Command::SetPrices(asked), move || {
            preferences::drop_draft("prices");
        }),
    };
    let field = move |label: String,
                      of: Wrong,
                      read: fn(&Form) -> String,
                      write: fn(&mut Form, String)| {
        view! {
            <Field
                label=label
                keyboard=Keyboard::Decimal
                value=Memo::new(move |_| form.with(read))
                invalid=Signal::derive(move || wrong.get() == Some(of))
                on_input=Callback::new(move |text: String| change(&|form| write(form, text.clone())))
            />
            <p class="wrong" role="alert">
                {move || (wrong.get() == Some(of)).then(|| words.prices_not_number())}
            </p>
        }
    };
    let (litre, oiling) = match units.of(Quantity::Oil) {
        System::Metric => (words.prices_litre(), words.prices_oiling_l()),
        System::Us => (words.prices_gallon(), words.prices_oiling_gal()),
    };
    view! {
        <div class="prices-form">
            <Field
                label=words.prices_money()
                keyboard=Keyboard::Text
                value=Memo::new(move |_| form.with(|form| form.money.clone()))
                invalid=false
                on_input=Callback::new(move |text: String| change(&|form| form.money.clone_from(&text)))
            />
            {field(words.prices_tooth(), Wrong::Tooth, |form| form.tooth.clone(), |form, text| form.tooth = text)}
            {field(litre, Wrong::Litre, |form| form.litre.clone(), |form, text| form.litre = text)}
            {field(oiling, Wrong::Oiling, |form| form.oiling.clone(), |form, text| form.oiling = text)}
            <button type="button" class="main-action keep-prices" on:click=keep>{words.keep()}</button>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::numbers::thousandths;
    use evenrow_journal::{Event, State};

    /// Identity: a US gallon is 3.785 411 784 litres.
    #[test]
    fn prices_are_read_in_the_units_of_the_phone_and_shown_again_as_typed() {
        let form = Form {
            money: "crowns".to_owned(),
            tooth: "8,25".to_owned(),
            litre: "5.3".to_owned(),
            oiling: "0.25".to_owned(),
        };
        let asked = form.asked(Units::US).unwrap();
        assert!((asked.litre - 5.3 / 3.785_411_784).abs() < 1e-12);
        assert!((asked.an_oiling - 0.946_352_946).abs() < 1e-12);
        assert!((form.asked(Units::METRIC).unwrap().tooth - 8.25).abs() < 1e-12);
        for (tooth, litre, oiling, wrong) in [
            ("", "1", "1", Wrong::Tooth),
            ("1", "dear", "1", Wrong::Litre),
            ("1", "1", "a cup", Wrong::Oiling),
        ] {
            let form = Form {
                money: String::new(),
                tooth: tooth.to_owned(),
                litre: litre.to_owned(),
                oiling: oiling.to_owned(),
            };
            assert_eq!(form.asked(Units::METRIC), Err(wrong));
        }
    }

    /// Records keep thousandths of the money a litre, and whole millilitres.
    #[test]
    fn every_price_and_amount_of_oil_comes_back_as_it_was_typed_to_the_hundredth() {
        for units in [Units::METRIC, Units::US] {
            for hundredths in 1..=2_000 {
                let typed = thousandths(hundredths * 10);
                let form = Form {
                    money: String::new(),
                    tooth: typed.clone(),
                    litre: typed.clone(),
                    oiling: typed,
                };
                let asked = form.asked(units).unwrap();
                let decided = State::default().decide(Command::SetPrices(asked)).unwrap();
                let [Event::PricesSet(kept)] = decided.as_slice() else {
                    panic!("{decided:?}");
                };
                let shown = Form::of(kept, units);
                let all = |it: &Form| [&it.tooth, &it.litre, &it.oiling].map(Clone::clone);
                assert_eq!(all(&shown), all(&form));
            }
        }
    }
}
