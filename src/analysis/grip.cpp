// SPDX-License-Identifier: MIT
#include "analysis/grip.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "analysis/analysis_memory.h"
#include "analysis/limits.h"
#include "analysis/passage.h"
#include "analysis/placed.h"
#include "analysis/rod_hold.h"
#include "analysis/weigh.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// Stretches along a pin, told from its other end.
std::vector<Interval> from_the_end(const std::vector<Interval>& stretches, double length_m) {
    std::vector<Interval> turned;
    for (auto s = stretches.rbegin(); s != stretches.rend(); ++s)
        turned.push_back({length_m - s->to, length_m - s->from});
    return turned;
}

/// Stretches without so much at their beginning and at their end.
std::vector<Interval> shortened(std::vector<Interval> stretches, double first_m, double last_m) {
    for (Interval& run : stretches) {
        const double lost_m = std::min(first_m, run.length());
        first_m -= lost_m;
        run.from += lost_m;
    }
    for (auto run = stretches.rbegin(); run != stretches.rend() && last_m > 0; ++run) {
        const double lost_m = std::min(last_m, run->length());
        last_m -= lost_m;
        run->to -= lost_m;
    }
    return stretches;
}

/// Where flesh draws back from what runs through it.
enum class DrawsBack { where_it_enters, at_both_ends };

/// What of a tine's stretches in flesh holds; see TineGrip::holds_m.
///
/// \param firm in order, from the hub on
double holding_length(const Item& item, const body::FleshField* flesh, const Vec3& hub, const Vec3& tip,
                      const std::vector<Interval>& firm, double in_flesh_m,
                      DrawsBack draws_back = DrawsBack::where_it_enters) {
    if (flesh == nullptr || firm.empty()) return in_flesh_m;
    const Pose to_item = item.pose.inverse();
    const Vec3 along = (tip - hub).normalized();
    const auto value_at = [&](double from_hub_m) {
        return flesh->at(to_item * (hub + from_hub_m * along) / item.off.scale);
    };
    constexpr int places = 4;
    double sum_m = 0, all_m = 0;
    for (const Interval& run : firm) all_m += run.length();
    const double first_m = value_at(firm.front().from).retreat_m;
    const double last_m = draws_back == DrawsBack::at_both_ends ? value_at(firm.back().to).retreat_m : 0;
    for (const Interval& run : shortened(firm, first_m, last_m)) {
        for (int n = 0; n < places; ++n) {
            const double part_m = run.length() / places;
            sum_m += part_m * value_at(run.from + (n + 0.5) * part_m).strength;
        }
    }
    // Bone among what is firm holds nothing that is counted.
    return sum_m * in_flesh_m / all_m;
}

/// Lets a rod without forks hold an item by its shape.
///
/// \param axis, through see rod_line_through()
void hold_by_rod(ItemGrip& held, const Item& item, const PinLine& axis, const Passage& through,
                 const Rod& rod) {
    const double hold_m2 = rod_hold_m2(rod.section, rod.width_m);
    if (!(hold_m2 > 0)) return;
    const double in_flesh_m = total_length(through.firm) - through.in_bone_m;
    if (in_flesh_m < grazed_m) return;
    const body::Matter softest = softest_matter(item);
    const double holds_m = holding_length(item, softest.flesh.get(), axis.root, axis.tip, through.firm,
                                          in_flesh_m, DrawsBack::at_both_ends);
    held.rod_alone = true;
    held.torque_capacity_raw_n_m = matter_of(item).bearing_strength_pa * hold_m2 * in_flesh_m;
    held.torque_capacity_n_m = softest.bearing_strength_pa * hold_m2 * holds_m;
}

MemoryKey pin_key(const Item& item, const Fork& fork, const Tine& tine) {
    MemoryKey key(item);
    key.add(static_cast<double>(fork.kind)).add(static_cast<double>(fork.points)).add(fork.at_m);
    for (const double number : {tine_clock(fork, tine), tine.radius_m, tine.length_m, tine.diameter_m})
        key.add(number);
    return key;
}

// By fork and tine.
std::vector<std::vector<PinLine>> pin_lines(const std::vector<Fork>& forks) {
    std::vector<std::vector<PinLine>> lines;
    for (const Fork& fork : forks) {
        std::vector<PinLine>& own = lines.emplace_back();
        if (fork.kind == ForkKind::basket) continue;
        for (const Tine& tine : fork.tines) own.push_back(pin_line(fork, tine));
    }
    return lines;
}

// Whether a tine can enter an item: most stand at other stations.
bool reaches(const Vec3& hub, const Vec3& tip, const ItemOnRod& item) {
    constexpr double rounding_m = 1e-6;
    return std::max(hub.x(), tip.x()) >= item.from() - rounding_m &&
           std::min(hub.x(), tip.x()) <= item.to() + rounding_m;
}

}  // namespace

Grip grip(const Assembly& assembly, const std::vector<ItemOnRod>& items, const std::stop_token& stop,
          AnalysisMemory* memory) {
    Grip result;
    result.items.resize(assembly.items.size());
    result.forks.resize(assembly.forks.size());
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        result.forks[f].at_m = assembly.forks[f].at_m;
        result.forks[f].tines.resize(assembly.forks[f].tines.size());
    }
    const std::vector<std::vector<PinLine>> lines = pin_lines(assembly.forks);
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        ItemGrip& item_grip = result.items[i];
        const double raw = matter_of(item).bearing_strength_pa;
        const body::Matter softest = softest_matter(item);
        const double least = softest.bearing_strength_pa;

        const Passage on_axis = recalled(memory ? &memory->rods : nullptr,
                                         MemoryKey(item).add(items[i].from()).add(items[i].to()),
                                         [&] { return rod_passage(item, items[i]); });
        const PinLine axis = rod_line_through(items[i]);
        for (const Interval& run : on_axis.firm)
            item_grip.rod_runs.push_back({axis.root.x() + run.from, axis.root.x() + run.to});
        for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
            const Fork& fork = assembly.forks[f];
            if (fork.kind == ForkKind::basket) {
                const std::optional<InBasket> lies = in_basket(item, fork);
                if (!lies) continue;
                item_grip.forks.push_back(static_cast<int>(f));
                item_grip.basket_out_m = lies->out_m;
                item_grip.basket_play_m = lies->play_m;
                continue;
            }
            double bite_m3 = 0, hold_m3 = 0;  // Σ radius · diameter · length in flesh, and that holds
            bool enters = false;
            for (std::size_t t = 0; t < fork.tines.size(); ++t) {
                stop_if_asked(stop);
                const Tine& tine = fork.tines[t];
                const auto& [hub, tip] = lines[f][t];
                if (!reaches(hub, tip, items[i])) continue;
                const PinMet met = recalled(memory ? &memory->pins : nullptr, pin_key(item, fork, tine),
                                            [&] { return pin_met(item, fork, tine); });
                const Passage& through = met.through;
                const double embedded = total_length(through.skin);
                if (embedded < grazed_m) continue;
                enters = true;
                TineGrip& told = result.forks[f].tines[t];
                if (told.item < 0) told.item = static_cast<int>(i);
                told.embedded_m += embedded;
                told.in_bone_m += through.in_bone_m;
                told.in_cavity_m += through.in_cavity_m;
                const double lever_m = mean_lever_m(fork, tine, through.firm);
                const double in_flesh = std::max(0.0, embedded - through.in_bone_m - through.in_cavity_m);
                double holds = 0;
                if (fork.kind == ForkKind::bracket) {
                    told.flesh_middle_m = fork.at_m;
                    told.flesh_arm_m = lever_m;
                    told.stands_out_m = std::max(0.0, tine.length_m - through.skin.back().to);
                    // The skin that moves in is the back's, where the leg comes out.
                    holds = holding_length(item, softest.flesh.get(), tip, hub,
                                           from_the_end(through.firm, tine.length_m), in_flesh);
                } else {
                    told.flesh_middle_m =
                        hub.x() + (tip.x() > hub.x() ? 1 : -1) * middle_of(through.firm).value_or(0);
                    told.flesh_arm_m = std::abs(told.flesh_middle_m - fork.at_m);
                    const double cover = met.cover_m.value();
                    told.cover_min_m = std::min(cover, told.cover_min_m.value_or(cover));
                    holds = holding_length(item, softest.flesh.get(), hub, tip, through.firm, in_flesh);
                }
                told.holds_m += holds;
                bite_m3 += lever_m * tine.diameter_m * in_flesh;
                hold_m3 += lever_m * tine.diameter_m * holds;
            }
            if (!enters) continue;
            item_grip.forks.push_back(static_cast<int>(f));
            item_grip.torque_capacity_raw_n_m += raw * bite_m3;
            item_grip.torque_capacity_n_m += least * hold_m3;
            result.forks[f].torque_capacity_raw_n_m += raw * bite_m3;
            result.forks[f].torque_capacity_n_m += least * hold_m3;
        }
        // A fork that is there and misses was meant to hold: its load is to be mended.
        if (assembly.forks.empty() && items[i].mass_kg <= limits::rod_alone_kg)
            hold_by_rod(item_grip, item, axis, on_axis, assembly.rod);
    }
    weigh(result, assembly, items);
    return result;
}

std::optional<bool> bone_between_legs(const Item& item, const Fork& bracket) {
    if (bracket.tines.size() < 2) return std::nullopt;
    const std::vector<body::Part>& parts = item.body->body.parts;
    if (std::none_of(parts.begin(), parts.end(),
                     [](const body::Part& part) { return part.kind == body::PartKind::bone; }))
        return std::nullopt;
    Vec3 root = Vec3::Zero(), tip = Vec3::Zero();
    for (const Tine& leg : bracket.tines) {
        const PinLine line = pin_line(bracket, leg);
        root += line.root / static_cast<double>(bracket.tines.size());
        tip += line.tip / static_cast<double>(bracket.tines.size());
    }
    return passage(item, root, tip).in_bone_m > grazed_m;
}

}  // namespace evenspit
