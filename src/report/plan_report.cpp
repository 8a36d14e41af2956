// SPDX-License-Identifier: MIT
#include "report/plan_report.h"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "report/chance_words.h"
#include "report/change_words.h"
#include "report/finding_words.h"
#include "report/json_parts.h"
#include "report/page.h"
#include "report/plan_words.h"
#include "report/reader_units.h"
#include "report/text_layout.h"

namespace evenspit {
namespace {

Json point(const Vec2& p) {
    return Json::array({p.x() + 0.0, p.y() + 0.0});
}
std::string_view facing_word(Facing facing) {
    return facing == Facing::point ? "point" : "drive";
}

Json answer_json(const Assembly& assembly, const plan::Plan& plan, std::size_t index) {
    const plan::PlanAnswer& answer = plan.answers[index];
    Json json;
    json["name"] = answer_key(answer.kind);
    json["recommended"] = index == plan.recommended;
    json["verdict"] = level_name(answer.analysis.verdict);
    if (answer.analysis.mounted) json["chance"] = chance_json(answer.analysis.mounted->chance);
    if (!answer.changes.empty()) json["changes"] = changes_json(answer.changes);
    json["stops"] = answer.stops;
    json["cares"] = answer.cares;
    json["items"] = Json::array();
    for (std::size_t i = 0; i < answer.arrangement.seats.size(); ++i) {
        const Seat& seat = answer.arrangement.seats[i];
        Json item;
        item["name"] = plan::load_of(answer, assembly).items[i].name;
        item["line"] = {{"from_m", point(seat.line.from)}, {"to_m", point(seat.line.to)}};
        put(item, "turn_deg", written_degrees(seat.turn_rad));
        put(item, "at_m", seat.at_m);
        item["facing"] = facing_word(seat.facing);
        json["items"].push_back(std::move(item));
    }
    json["forks"] = Json::array();
    for (const Fork& fork : answer.arrangement.forks) {
        Json entry;
        put(entry, "at_m", fork.at_m);
        entry["points"] = facing_word(fork.points);
        put(entry, "clock_deg", written_degrees(fork.clock_rad));
        json["forks"].push_back(std::move(entry));
    }
    json["counterweights"] = Json::array();
    for (const Counterweight& weight : answer.arrangement.counterweights)
        json["counterweights"].push_back(counterweight_json(weight));
    put(json, "gravity_torque_peak_n_m", answer.analysis.balance.gravity_torque_peak_n_m);
    put(json, "gravity_torque_worst_n_m", answer.gravity_torque_worst_n_m);
    put(json, "motor_torque_peak_n_m", answer.analysis.balance.motor_torque_peak_n_m);
    put(json, "motor_use", answer.analysis.balance.motor_use);
    put(json, "gap_min_m", answer.analysis.clearance.gap_min_m);
    put(json, "grip_torque_use", answer.analysis.grip.torque_use);
    put(json, "yield_use", answer.analysis.rod.yield_use);
    put(json, "effort", answer.effort);
    json["worth_its_effort"] = answer.worth_its_effort;
    json["why"] = answer_why(assembly, plan, index, UnitSystem::metric);
    json["steps"] = answer_steps(assembly, plan, index, UnitSystem::metric);
    return json;
}

std::string verdict_words(const plan::PlanAnswer& answer) {
    std::string words(level_name(answer.analysis.verdict));
    const int times = answer.stops > 0 ? answer.stops : answer.cares;
    return times > 0 ? words + fmt::format(" × {}", times) : words;
}

/// In how many of 100 mountings it is ready.
std::string ready_words(const plan::PlanAnswer& answer) {
    return answer.analysis.mounted ? of_100_text(answer.analysis.mounted->chance.ready)
                                   : std::string(no_figure);
}

}  // namespace

std::string plan_text(const Assembly& assembly, const plan::Plan& plan, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    const plan::PlanAnswer& best = plan.answers[plan.recommended];
    const auto tell_answer = [&](std::size_t i) {
        page.paragraph(answer_why(assembly, plan, i, options.units), Page::margin);
        int number = 0;
        for (const std::string& step : answer_steps(assembly, plan, i, options.units))
            page.marked(fmt::format("{}.", ++number), Ink::plain, step);
    };
    page.paragraph(printable(fmt::format("{} ({})", assembly.title, assembly.file)));
    page.gap();
    const Assembly after = with_arrangement(plan::load_of(best, assembly), best.arrangement);
    const bool hopeless = best.stops > 0;
    if (hopeless) {
        page.paragraph(plan.recommended == 0
                           ? "No change makes it better, and as it stands it cannot go on the fire."
                           : "However it is set up, this load cannot go on the fire.");
        if (!plan.limits.empty()) {
            page.heading("What stands in the way, and what would help");
            for (const plan::PlanLimit& limit : plan.limits)
                page.marked("-", Ink::plain, limit_text(limit, after, options.units));
        }
    } else if (plan.recommended == 0) {
        page.paragraph("Leave it as it is.");
    } else {
        page.paragraph(fmt::format("Recommended: {}, {}", plan.recommended, answer_name(best.kind)));
        tell_answer(plan.recommended);
    }
    if (best.analysis.mounted) {
        page.paragraph(planned_chance_sentence(best.stops + best.cares > 0, best.analysis.mounted->chance),
                       Page::margin);
        if (!hopeless && best.analysis.mounted->chance.ready < limits::worthy_chance)
            page.paragraph(more_care_text(plan.more_care), Page::margin);
    }
    page.heading("Answers, by what there is to do");
    Table table({{"", true},
                 {"answer"},
                 {"effort", true},
                 {"torque", true},
                 {"motor", true},
                 {"gap", true},
                 {"ready", true},
                 {"verdict"}});
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        const plan::PlanAnswer& a = plan.answers[i];
        table.add_row({fmt::format("{}{}", i == plan.recommended ? "> " : "", i),
                       std::string(answer_name(a.kind)),
                       fmt::format("{:g}{}", a.effort, a.worth_its_effort ? " *" : "  "),
                       units.of(std::optional(a.analysis.balance.gravity_torque_peak_n_m), Dimension::torque),
                       Units::share(std::optional(a.analysis.balance.motor_use)),
                       units.slack(a.analysis.clearance.gap_min_m), ready_words(a), verdict_words(a)});
    }
    page.table(table);
    page.paragraph(
        "> recommended; * no other answer has as little torque for as little effort; torque: as check finds "
        "it; "
        "ready: of 100 mountings",
        Page::margin);
    std::string worst;
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        worst +=
            fmt::format("{}{} {}", i == 0 ? "" : ", ",
                        units.of(std::optional(plan.answers[i].gravity_torque_worst_n_m), Dimension::torque),
                        i == 0 ? "(answer 0)" : fmt::format("({})", i));
    }
    page.paragraph(fmt::format("Torque at the worst of the whole cook: {}.", worst), Page::margin);
    for (std::size_t i = 0; i < plan.answers.size() && !hopeless; ++i) {
        if (i == plan.recommended && i != 0) continue;
        page.heading(answer_title(plan, i));
        tell_answer(i);
    }
    const auto tell = [&](Level level, std::string_view mark, Ink ink) {
        for (const Finding& finding : best.analysis.findings) {
            if (finding.level == level) page.marked(mark, ink, finding_text(finding, after, options.units));
        }
    };
    if (best.stops + best.cares > 0) {
        page.heading(plan.recommended == 0 ? "To fix" : "Left to fix with what is recommended");
        tell(Level::stop, "STOP", Ink::bad);
        tell(Level::care, "CARE", Ink::caution);
    }
    return page.text();
}

std::string plan_json(const Assembly& assembly, const plan::Plan& plan) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    json["verdict"] = level_name(plan.answers[plan.recommended].analysis.verdict);
    json["recommended"] = plan.recommended;
    json["plan"] = Json::array();
    for (std::size_t i = 0; i < plan.answers.size(); ++i) {
        json["plan"].push_back(answer_json(assembly, plan, i));
    }
    json["limits"] = Json::array();
    const plan::PlanAnswer& best = plan.answers[plan.recommended];
    const Assembly bound = with_arrangement(plan::load_of(best, assembly), best.arrangement);
    for (const plan::PlanLimit& limit : plan.limits) {
        json["limits"].push_back(
            {{"topic", plan::topic_of(limit)}, {"message", limit_text(limit, bound, UnitSystem::metric)}});
    }
    return json_text(json);
}
std::string fit_text(const Assembly& assembly, const plan::Fit& fit, const TextOptions& options) {
    const Units units(options.units);
    Page page(options);
    page.paragraph(printable(fmt::format("{} ({})", assembly.title, assembly.file)));
    page.gap();
    const auto mass = [&](const std::optional<double>& kg) { return units.of(kg, Dimension::mass); };
    const std::string care = fit_stop_text(fit.not_ready_by, assembly, options.units);
    if (fit.largest_ready_kg) {
        page.paragraph(fmt::format("Up to {} is ready, set up as planned.", mass(fit.largest_ready_kg)));
        if (!care.empty()) page.paragraph(fmt::format("What asks for care above that: {}", care));
    } else if (fit.largest_kg) {
        page.paragraph("No mass that was tried is ready without care.");
        if (!care.empty()) page.paragraph(fmt::format("What asks for care: {}", care));
    }
    if (fit.largest_kg && fit.largest_kg != fit.largest_ready_kg) {
        page.paragraph(fmt::format("Up to {} can turn, with care.", mass(fit.largest_kg)));
    } else if (!fit.largest_kg) {
        page.paragraph("No mass that was tried can turn.");
    }
    const std::string stop = fit_stop_text(fit.stopped_by, assembly, options.units);
    if (!stop.empty()) {
        page.paragraph(fmt::format("{}: {}", fit.largest_kg ? "What stops more" : "What stops it", stop));
    } else if (fit.largest_kg) {
        page.paragraph("Nothing stops it up to there; more was not tried.");
    }
    page.gap();
    Table table({{"mass", true},
                 {"verdict"},
                 {"ready", true},
                 {"motor", true},
                 {"gap", true},
                 {"grip", true},
                 {"rod", true}});
    for (const plan::FitRow& row : fit.rows) {
        table.add_row({units.of(row.mass_kg, Dimension::mass),
                       std::string(row.verdict ? level_name(*row.verdict) : "no such body"),
                       row.chance ? of_100_text(row.chance->ready) : std::string(no_figure),
                       Units::share(row.motor_use), units.slack(row.gap_min_m),
                       Units::share(row.grip_torque_use), Units::share(row.yield_use)});
    }
    page.table(table);
    if (std::any_of(fit.rows.begin(), fit.rows.end(),
                    [](const plan::FitRow& row) { return row.chance.has_value(); }))
        page.paragraph("ready: of 100 mountings", Page::margin);
    return page.text();
}

std::string fit_json(const Assembly& assembly, const plan::Fit& fit) {
    Json json;
    json["tool"] = tool_json();
    json["load"] = load_json(assembly);
    Json& told = json["fit"];
    told = Json::object();
    put(told, "largest_mass_kg", fit.largest_kg);
    put(told, "largest_ready_mass_kg", fit.largest_ready_kg);
    const auto put_stop = [&assembly](Json& object, const plan::FitStop& stop) {
        const std::string words = fit_stop_text(stop, assembly, UnitSystem::metric);
        if (!words.empty()) object["stopped_by"] = words;
    };
    put_stop(told, fit.stopped_by);
    told["masses"] = Json::array();
    for (const plan::FitRow& row : fit.rows) {
        Json entry;
        put(entry, "mass_kg", row.mass_kg);
        if (row.verdict) entry["verdict"] = level_name(*row.verdict);
        if (row.chance) entry["chance"] = chance_json(*row.chance);
        put(entry, "motor_use", row.motor_use);
        put(entry, "gap_min_m", row.gap_min_m);
        put(entry, "grip_torque_use", row.grip_torque_use);
        put(entry, "yield_use", row.yield_use);
        put_stop(entry, row.stopped_by);
        told["masses"].push_back(std::move(entry));
    }
    return json_text(json);
}

}  // namespace evenspit
