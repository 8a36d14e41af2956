// SPDX-License-Identifier: MIT
#include "analysis/findings.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include <fmt/core.h>

#include "analysis/body_findings.h"
#include "analysis/placed.h"
#include "units/metric.h"
#include "units/quantity.h"

namespace evenspit {
namespace {

constexpr double motor_care = 0.6;
constexpr double yield_care = 0.5;
constexpr double sag_care_m = 0.005;
constexpr double grip_care = 0.5;

std::string percent(double share) {
    return fmt::format("{:.0f} %", 100 * share);
}

Level by_limits(double value, double care, double stop) {
    return value >= stop ? Level::stop : value >= care ? Level::care : Level::ready;
}

std::string clock_text(double angle_rad) {
    const double deg = std::fmod(std::round(angle_rad * 180 / std::numbers::pi) + 360, 360);
    return fmt::format("clock {:.0f}°", deg);
}

/// Which side is heavy, in words that can be checked by hand; for a lone bird also by its anatomy.
std::string heavy_side_text(const Assembly& assembly, const Balance& balance) {
    std::string side = clock_text(balance.heavy_side_rad);
    if (assembly.items.size() == 1 && assembly.items[0].bird) {
        // The bird's own axes against the heavy side; sides in between are told by the clock alone.
        const Vec3 heavy =
            assembly.items[0].pose.linear().transpose() * rod_point(0, 1, balance.heavy_side_rad);
        constexpr double clearly = 0.8;
        if (std::abs(heavy.z()) > clearly)
            side += heavy.z() > 0 ? ", where the breast is" : ", where the back is";
        if (std::abs(heavy.y()) > clearly)
            side += heavy.y() > 0 ? ", where its right side is" : ", where its left side is";
    }
    return side;
}

/// What brings the unbalance down to `allowed_kg_m`: the rod line for all of it, or the least counterweight.
std::string how_to_balance(const Assembly& assembly, const Balance& balance, double allowed_kg_m) {
    double items_kg = 0;
    for (const Item& item : assembly.items) items_kg += item.body->mass.amount;
    std::string way = fmt::format("The heavy side is at {}. ", heavy_side_text(assembly, balance));
    if (items_kg > 0) {
        way += fmt::format("Move the rod line {} toward it, or set",
                           metric(balance.unbalance_kg_m_size / items_kg, Dimension::length));
    } else {
        way += "Set";
    }
    // Rounded up, so that what is advised is enough.
    const double grams = std::max(1.0, std::ceil((balance.unbalance_kg_m_size - allowed_kg_m) / 0.1 * 1000));
    return way + fmt::format(" a counterweight opposite: {:.0f} g or more at 100 mm.", grams);
}

void motor_findings(std::vector<Finding>& out, const Assembly& assembly, const Analysis& a) {
    const Balance& b = a.balance;
    const Level level = by_limits(b.motor_use, motor_care, 1);
    std::string message =
        fmt::format("The motor must give {} at the worst point of a turn, {} of its rating of {}",
                    metric(b.motor_torque_peak_n_m, Dimension::torque), percent(b.motor_use),
                    metric(b.rated_torque_n_m, Dimension::torque));
    if (level == Level::ready) {
        message += ".";
    } else {
        message += ". ";
        const double left_n_m = motor_care * b.rated_torque_n_m - b.friction_torque_n_m;
        if (left_n_m > 0) {
            message += how_to_balance(assembly, b, left_n_m / standard_gravity);
        } else {
            message +=
                "Friction at the supports alone takes that much, which no counterweight mends: clean and "
                "grease them, or take a lighter load.";
        }
    }
    out.push_back(
        {level, "motor", std::move(message), b.motor_use, level == Level::stop ? 1 : motor_care, "1"});

    if (a.turning.stalls) {
        out.push_back(
            {Level::stop, "turning",
             fmt::format(
                 "The motor stands still: the peak of {} reaches its stall torque of {}. Balance the load "
                 "before it goes on.",
                 metric(b.motor_torque_peak_n_m, Dimension::torque),
                 metric(assembly.motor.stall_torque_n_m, Dimension::torque)),
             b.motor_torque_peak_n_m, assembly.motor.stall_torque_n_m, "N m"});
    }
    if (a.turning.overruns) {
        out.push_back(
            {Level::care, "turning",
             fmt::format(
                 "Over {} of each turn the heavy side falls and drives the gears: it pulls {}, friction "
                 "holds {}. It will flop over and knock in the gears' play. {}",
                 percent(a.turning.overrun_share), metric(b.gravity_torque_peak_n_m, Dimension::torque),
                 metric(b.friction_torque_n_m, Dimension::torque),
                 how_to_balance(assembly, b, b.friction_torque_n_m / standard_gravity)),
             b.gravity_torque_peak_n_m, b.friction_torque_n_m, "N m"});
    }
    if (a.turning.irregularity && *a.turning.irregularity > 0.2) {
        out.push_back(
            {Level::ready, "turning",
             fmt::format("It does not turn evenly: the speed varies by {} over a turn. It is slowest "
                         "while the heavy side rises, so the side a quarter turn behind that, at {}, "
                         "lingers below and browns more.",
                         percent(*a.turning.irregularity),
                         clock_text(b.heavy_side_rad - std::numbers::pi / 2)),
             *a.turning.irregularity, std::nullopt, "1"});
    }
}

void rod_findings(std::vector<Finding>& out, const Assembly& assembly, const Analysis& a) {
    const Level level = by_limits(a.rod.yield_use, yield_care, 1);
    std::string message = fmt::format("The rod is stressed to {} at {}, {} of what it bears at {}",
                                      metric(a.rod.stress_max_pa, Dimension::pressure),
                                      metric(a.rod.stress_at_m, Dimension::length), percent(a.rod.yield_use),
                                      metric(assembly.rod.temperature_k, Dimension::temperature));
    message += level == Level::ready  ? "."
               : level == Level::care ? ": it is near bending for good. Take a thicker rod or a lighter load."
                                      : ": it bends and stays bent. Take a thicker rod or a lighter load.";
    out.push_back(
        {level, "rod", std::move(message), a.rod.yield_use, level == Level::stop ? 1 : yield_care, "1"});
    if (a.rod.sag_max_m > sag_care_m) {
        out.push_back(
            {Level::care, "rod",
             fmt::format(
                 "The rod sags by {} at {}. Take a thicker rod, or bring the load nearer to a support.",
                 metric(a.rod.sag_max_m, Dimension::length), metric(a.rod.sag_at_m, Dimension::length)),
             a.rod.sag_max_m, sag_care_m, "m"});
    }
}

void grip_findings(std::vector<Finding>& out, const Assembly& assembly, const Analysis& a) {
    for (std::size_t i = 0; i < a.grip.items.size(); ++i) {
        const ItemGrip& item = a.grip.items[i];
        const std::string& name = assembly.items[i].name;
        if (item.forks.empty()) {
            out.push_back({Level::stop, "grip",
                           fmt::format("No fork enters {}: the rod will turn inside it. Set a fork at each "
                                       "end, tines in the meat.",
                                       name),
                           std::nullopt, std::nullopt, ""});
            continue;
        }
        if (!item.torque_use) {
            out.push_back({Level::stop, "grip",
                           fmt::format("The forks of {} find no flesh, only bone and cavity: they hold "
                                       "nothing. Move or turn them "
                                       "to where there is meat.",
                                       name),
                           std::nullopt, std::nullopt, ""});
            continue;
        }
        const Level level = by_limits(*item.torque_use, grip_care, 1);
        std::string message =
            fmt::format("The forks hold {} against {}; {} pulls with up to {}, {} of it", name,
                        metric(item.torque_capacity_n_m, Dimension::torque), name,
                        metric(item.gravity_torque_n_m, Dimension::torque), percent(*item.torque_use));
        message +=
            level == Level::ready ? "."
            : level == Level::care
                ? ": tighten the forks as the meat softens, or set the tines deeper or wider apart."
                : ": the meat will tear and slip as it softens. Set the tines deeper or wider apart, or "
                  "balance the load closer.";
        if (!assembly.items[i].bearing_strength_pa)
            message += " Counted with the strength of cooked meat across its fibres.";
        out.push_back(
            {level, "grip", std::move(message), *item.torque_use, level == Level::stop ? 1 : grip_care, "1"});
    }
    for (std::size_t f = 0; f < a.grip.forks.size(); ++f) {
        for (std::size_t t = 0; t < a.grip.forks[f].tines.size(); ++t) {
            const TineGrip& tine = a.grip.forks[f].tines[t];
            const std::string which = fmt::format("Tine {} of fork {}", t + 1, f + 1);
            if (tine.in_bone_m > bone_care_m) {
                out.push_back(
                    {Level::care, "grip",
                     fmt::format(
                         "{} runs through {} of bone. Turn the fork, or move it, so that it passes beside.",
                         which, metric(tine.in_bone_m, Dimension::length)),
                     tine.in_bone_m, 0.0, "m"});
            }
            if (tine.cover_min_m && *tine.cover_min_m < cover_care_m) {
                std::string message =
                    *tine.cover_min_m > 0
                        ? fmt::format("{} has only {} of flesh over it, less than {}: it will tear the skin.",
                                      which, metric(*tine.cover_min_m, Dimension::length),
                                      metric(cover_care_m, Dimension::length))
                        : fmt::format("{} comes out through the skin.", which);
                message += " Turn the fork, or take shorter tines nearer the rod.";
                out.push_back(
                    {Level::care, "grip", std::move(message), *tine.cover_min_m, cover_care_m, "m"});
            }
        }
    }
}

/// What to do about a part (as swept_outline() names it) that strikes the cooker. An item may be called what
/// it likes, even "fork 1".
std::string_view strike_advice(const Assembly& assembly, std::string_view part) {
    const auto names = [&](const std::string& item) { return part == item || part.starts_with(item + ", "); };
    const bool is_item = std::any_of(assembly.items.begin(), assembly.items.end(),
                                     [&](const Item& item) { return names(item.name); });
    if (!is_item && part.starts_with("counterweight "))
        return "Set it at another station, or a heavier one nearer the rod.";
    if (!is_item && part.starts_with("fork "))
        return "Set it at another station, or take one with narrower tines.";
    return "Take a smaller load, tie it tighter, or bring the rod line nearer its middle.";
}

void clearance_findings(std::vector<Finding>& out, const Assembly& assembly, const Analysis& a) {
    for (const SurfaceGap& surface : a.clearance.surfaces) {
        const Level level = surface.gap_m < 0                ? Level::stop
                            : surface.gap_m < surface.keep_m ? Level::care
                                                             : Level::ready;
        std::string message;
        if (level == Level::stop) {
            message =
                fmt::format("{} strikes {} at {}, by {}. {}", surface.part, surface.name,
                            metric(surface.at_m, Dimension::length),
                            metric(-surface.gap_m, Dimension::length), strike_advice(assembly, surface.part));
        } else {
            message = fmt::format("{} clears {} by {} at {}", surface.part, surface.name,
                                  metric(surface.gap_m, Dimension::length),
                                  metric(surface.at_m, Dimension::length));
            message +=
                level == Level::ready
                    ? "."
                    : fmt::format(", less than the {} to keep{}.", metric(surface.keep_m, Dimension::length),
                                  surface.fire ? " from fire: it will burn there" : "");
        }
        out.push_back({level, "clearance", std::move(message), surface.gap_m,
                       level == Level::stop ? 0 : surface.keep_m, "m"});
    }
    if (assembly.cooker.surfaces.empty()) {
        out.push_back({Level::ready, "clearance",
                       "No cooker was given, so nothing is known about walls, lid and coals. Turn the load "
                       "by hand through a full "
                       "turn with the lid closed before lighting.",
                       std::nullopt, std::nullopt, ""});
    }
}

}  // namespace

std::vector<Finding> figure_findings(const Assembly& assembly, const Analysis& analysis) {
    std::vector<Finding> out;
    motor_findings(out, assembly, analysis);
    grip_findings(out, assembly, analysis);
    clearance_findings(out, assembly, analysis);
    rod_findings(out, assembly, analysis);
    for (Finding& finding : body_findings(assembly, analysis)) out.push_back(std::move(finding));
    return out;
}

std::vector<Finding> remark_findings(const Assembly& assembly) {
    std::vector<Finding> out;
    for (const std::string& remark : assembly.remarks) {
        out.push_back({Level::ready, "assumption", remark, std::nullopt, std::nullopt, ""});
    }
    for (const Item& item : assembly.items) {
        for (const std::string& remark : item.body->body.remarks) {
            out.push_back(
                {Level::ready, "assumption", item.name + ": " + remark, std::nullopt, std::nullopt, ""});
        }
    }
    return out;
}

}  // namespace evenspit
