// SPDX-License-Identifier: MIT
#include "plan/first_load.h"

#include <algorithm>
#include <utility>

#include "analysis/placed.h"
#include "cook/cook_course.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "plan/hand_steps.h"
#include "plan/moves.h"

namespace evenspit::plan {
namespace {

/// How far a hub sits outside the meat before anything is planned. Common practice.
constexpr double hub_off_meat_m = 0.005;

double on_tape(double place_m) {
    return on_step(place_m, HandSteps{}.length_m);
}

/// The body's middle over the middle of the fire, else of the usable stretch, and forks at its ends: where a
/// cook would begin, and a plan goes on from.
Assembly roughly_placed(const Assembly& assembly) {
    Arrangement arrangement = arrangement_of(assembly);
    const std::array<double, 2> fire = fire_stretch(assembly.cooker);
    const std::array<double, 2>& usable = assembly.rod.usable_m;
    const double from = std::max(fire[0], usable[0]);
    const double to = std::min(fire[1], usable[1]);
    const double middle = from < to ? (from + to) / 2 : (usable[0] + usable[1]) / 2;
    const std::array<double, 2> body = stretch_on_rod(assembly.items.front());
    Seat& seat = arrangement.seats.front();
    const double at = on_tape(seat.at_m + middle - (body[0] + body[1]) / 2);
    const double by = at - seat.at_m;
    seat.at_m = at;
    for (Fork& fork : arrangement.forks) {
        const bool at_drive = fork.points == Facing::point;
        fork.at_m = on_tape(by + (at_drive ? body[0] - hub_off_meat_m : body[1] + hub_off_meat_m));
    }
    return with_arrangement(assembly, arrangement);
}

}  // namespace

FirstLoad first_load(const NewLoadAnswers& answers, const std::filesystem::path& file,
                     const std::filesystem::path& from, const std::filesystem::path& models, int mountings,
                     const std::function<void(std::string_view what)>& stage, const std::stop_token& stop) {
    const auto begin = [&stage](std::string_view what) {
        if (stage) stage(what);
    };
    begin("reading what is roasted");
    std::string text = moved_load(new_load_text(answers, models), file.string(), from, file.parent_path());
    const Assembly somewhere = read_load_text(text, file, models);
    const Assembly rough = roughly_placed(somewhere);
    if (can_roast(rough)) begin("roasting it coarsely");
    const Assembly start = cook::cooked_load(rough, stop).load;

    begin("looking for places for rod, roast and forks");
    PlanWish wish;
    wish.mountings = 0;
    wish.may.counterweights = !start.stock.empty();
    const auto planned = [&](const std::string& before, const Assembly& read, const Assembly& load) {
        const Plan plan = make_plan(load, {}, stop, wish);
        const Arrangement& best = plan.answers[plan.recommended].arrangement;
        return edited_load(before, read, with_arrangement(load, best));
    };
    const auto judged = [&](std::string written) {
        begin("mounting it again and again");
        cook::JudgedLoad of = cook::judged_load(read_load_text(written, file, models), mountings, stop);
        return FirstLoad{std::move(written), std::move(of.load), std::move(of.analysis)};
    };
    FirstLoad first = judged(planned(text, somewhere, start));
    if (first.analysis.verdict == Level::ready) return first;
    // As drawn it did not get there, or only just. What hands make of it counts, and takes longer to find
    // out.
    begin("looking again");
    wish.mountings = answer_mountings;
    FirstLoad second = judged(planned(first.text, first.load, first.load));
    return second.analysis.verdict < first.analysis.verdict ? second : first;
}

}  // namespace evenspit::plan
