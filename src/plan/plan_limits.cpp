// SPDX-License-Identifier: MIT
#include "plan/plan_limits.h"

#include <algorithm>
#include <cmath>

#include "analysis/limits.h"
#include "analysis/placed.h"
#include "units/standard_gravity.h"

namespace evenspit::plan {
namespace {

void motor_limit(std::vector<PlanLimit>& out, const Analysis& a) {
    const Balance& b = a.balance;
    if (b.motor_use < limits::motor_stop && !a.turning.stalls) return;
    const double left_n_m = std::max(0.0, limits::motor_care * b.rated_torque_n_m - b.at_supports_n_m());
    const double too_much_n_m = std::max(0.0, b.gravity_torque_peak_n_m - left_n_m);
    out.push_back(MotorLimit{.torque_n_m = b.motor_torque_peak_n_m,
                             .rating_needed_n_m = b.motor_torque_peak_n_m / limits::motor_care,
                             .excess_kg_m = too_much_n_m / standard_gravity});
}

/// What strikes the cooker, part by part, and how much smaller the body would have to be.
void room_limits(std::vector<PlanLimit>& out, const Assembly& assembly, const Clearance& clearance) {
    std::vector<RoomLimit> found;
    std::vector<double> pass_shares;  // of its reach, that would just pass
    for (std::size_t s = 0; s < clearance.surfaces.size(); ++s) {
        const SurfaceGap& surface = clearance.surfaces[s];
        if (surface.gap_m >= limits::gap_stop_m) continue;
        auto limit = std::find_if(found.begin(), found.end(),
                                  [&](const RoomLimit& l) { return l.part == surface.part; });
        if (limit == found.end()) {
            limit = found.insert(limit, {.part = surface.part, .strikes = {}, .body_kg = {}});
            pass_shares.push_back(1);
        }
        limit->strikes.push_back({s, -surface.gap_m});
        const double reach = clearance.outline.radius_at(surface.at_m);
        const double share = reach > 0 ? std::max(0.0, (reach + surface.gap_m) / reach) : 0;
        double& least = pass_shares[static_cast<std::size_t>(limit - found.begin())];
        least = std::min(least, share);
    }
    for (std::size_t i = 0; i < found.size(); ++i) {
        RoomLimit& limit = found[i];
        const bool body = limit.part.kind == Thing::Kind::item || limit.part.kind == Thing::Kind::limb;
        // Of something much smaller nothing can be said: it would be shaped otherwise.
        constexpr double least_share = 0.5;
        if (body && pass_shares[i] > least_share) {
            const Item& item = assembly.items[limit.part.index];
            limit.body_kg = item.body->mass.amount * std::pow(pass_shares[i], 3);
            limit.loose = !item.trussed;
        }
        out.push_back(std::move(limit));
    }
}

void strength_limit(std::vector<PlanLimit>& out, const Assembly& assembly, const RodResult& rod) {
    if (rod.yield_use < limits::yield_stop) return;
    // Stress falls with the third power of the width.
    out.push_back(
        StrengthLimit{rod.yield_use, assembly.rod.width_m * std::cbrt(rod.yield_use / limits::yield_care)});
}

void hold_limits(std::vector<PlanLimit>& out, const Grip& grip) {
    for (std::size_t i = 0; i < grip.items.size(); ++i) {
        const ItemGrip& item = grip.items[i];
        if (item.forks.empty() && !(item.torque_use && *item.torque_use < limits::grip_stop)) {
            out.push_back(HoldLimit{.why = HoldLimit::Why::no_fork, .item = i});
        } else if (!item.torque_use) {
            out.push_back(HoldLimit{.why = HoldLimit::Why::no_flesh, .item = i});
        } else if (*item.torque_use >= limits::grip_stop) {
            out.push_back(HoldLimit{.why = HoldLimit::Why::torque,
                                    .item = i,
                                    .torque_use = *item.torque_use,
                                    .times_longer = *item.torque_use / limits::grip_care});
        }
    }
}

/// \returns whether the usable stretch is too short
bool length_limit(std::vector<PlanLimit>& out, const Assembly& assembly) {
    double needed_m = 0;
    for (const Item& item : assembly.items) {
        const auto [from, to] = stretch_on_rod(item);
        needed_m += to - from;
    }
    const double usable_m = assembly.rod.usable_m[1] - assembly.rod.usable_m[0];
    if (needed_m <= usable_m) return false;
    out.push_back(LengthLimit{usable_m, needed_m});
    return true;
}

}  // namespace

std::string_view topic_of(const PlanLimit& limit) {
    struct Topics {
        std::string_view operator()(const MotorLimit&) const { return topic_of(Code::motor_torque); }
        std::string_view operator()(const RoomLimit&) const { return topic_of(Code::gap); }
        std::string_view operator()(const StrengthLimit&) const { return topic_of(Code::rod_stress); }
        std::string_view operator()(const HoldLimit&) const { return topic_of(Code::grip_torque); }
        std::string_view operator()(const LengthLimit&) const { return topic_of(Code::outside_usable); }
        std::string_view operator()(const Finding& finding) const { return topic_of(finding.code); }
    };
    return std::visit(Topics{}, limit);
}

std::vector<PlanLimit> plan_limits(const Assembly& assembly, const Analysis& analysis) {
    std::vector<PlanLimit> out;
    motor_limit(out, analysis);
    room_limits(out, assembly, analysis.clearance);
    strength_limit(out, assembly, analysis.rod);
    hold_limits(out, analysis.grip);
    const bool too_short = length_limit(out, assembly);
    const auto stops = [&](auto&& wanted) {
        for (const Finding& finding : analysis.findings) {
            if (finding.level == Level::stop && wanted(finding)) out.push_back(finding);
        }
    };
    const auto in_a_place = [](const Finding& f) { return topic_of(f.code) == topic_of(Code::one_place); };
    if (!too_short) stops(in_a_place);
    // What none of these covers. A stall is the motor's limit.
    const std::vector<PlanLimit> so_far = out;
    stops([&so_far](const Finding& f) {
        return f.code != Code::stall && std::none_of(so_far.begin(), so_far.end(), [&f](const PlanLimit& l) {
                   return topic_of(l) == topic_of(f.code);
               });
    });
    return out;
}

}  // namespace evenspit::plan
