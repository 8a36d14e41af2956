// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "body/meat_density.h"
#include "geometry/mesh.h"
#include "load/thing.h"

namespace evenspit {

/// How bad something is, and the verdict on the whole: the worst of its findings.
enum class Level { ready, care, stop };

std::string_view level_name(Level level);

/// What a finding says. Names (code_name()) go out with results: a new meaning takes a new one.
enum class Code {
    motor_torque,
    stall,
    overrun,
    uneven_speed,
    rod_stress,
    rod_sag,
    no_fork,
    no_flesh,
    grip_torque,
    tine_in_bone,
    tine_cover,
    tine_out,
    tine_free,  // meets no flesh
    leg_short,
    leg_off_spine,
    out_of_basket,
    loose_in_basket,
    basket_full,
    gap,
    no_cooker,
    limbs_free,
    giblets,
    stuffed,
    density,
    outside_usable,
    one_place,
    hub_in_meat,
    one_fork,
    centre_not_between_forks,
    rod_in_bone,
    rod_cover,
    rod_beside,
    nearer_drive,
    fork_upright,
    knock,
    together,
    grip_weight,
    clamp_turns,
    clamp_slides,
    tine_bends,
    support_pulls_down,
    roll_test,
    frozen_inside,
    undercooked,
    not_done,
    by_carry_over,
    lukewarm,
    cool_cooker,
    long_wait,
    too_much_fuel,
    too_little_fuel,
    small_bed,
    assumption
};

/// "motor-torque": one lower-case word with hyphens.
std::string_view code_name(Code code);
/// What it belongs to: "motor", "turning", "balance", "rod", "grip", "clearance", "body", "food", "fire",
/// "place", "assumption".
std::string_view topic_of(Code code);
/// Whether whoever mounts the load sees it and mends it there and then: it counts as written only.
bool is_seen_by_hand(Code code);
/// Of a finding's value and limit, "" if it has none; "1" for shares.
std::string_view unit_of(Code code);

/// A side of a bird, where one looks to the heavy side of the rod.
enum class Side { none, breast, back, right, left };

/// What would bring the unbalance down far enough.
struct Rebalance {
    double heavy_side_rad = 0;  ///< clock
    Side side = Side::none;     ///< of a lone bird, if one is clearly meant
    /// How far to move the rod line toward the heavy side, m; absent without items.
    std::optional<double> line_shift_m{};
    double excess_kg_m = 0;  ///< what a counterweight opposite has to take off
};

// What findings tell beside their value and limit, by code.

struct MotorFacts {
    double torque_n_m = 0;
    double rated_n_m = 0;
    bool cooked = false;              ///< as the cook leaves it
    std::optional<Rebalance> mend{};  ///< absent where friction alone is too much, or nothing is asked
    /// Cooked so long after the load went in; absent: not computed.
    std::optional<double> after_s{};
};
struct OverrunFacts {
    double share = 0;  ///< of a turn
    double rated_n_m = 0;
    Rebalance mend{};
};
struct KnockFacts {
    double play_rad = 0;
    double rated_n_m = 0;
    bool rigid_drive = false;  ///< no stiffness is known: an upper bound
    Rebalance mend{};
};
/// One of several findings that only together reach the verdict.
struct Contribution {
    Code code{};
    Thing about{};
    double share = 0;  ///< of mountings
};
struct TogetherFacts {
    std::vector<Contribution> most{};  ///< the most frequent first
};
struct UnevenFacts {
    double lingers_rad = 0;  ///< clock of the side that stays below longest
    std::optional<Rebalance> mend{};
};
struct StressFacts {
    double stress_pa = 0;
    double temperature_k = 0;  ///< of the rod
};
struct GripFacts {
    double capacity_n_m = 0;
    double torque_n_m = 0;
    bool strength_assumed = false;
    bool rod_alone = false;  ///< the rod holds it by its shape, without a fork
};
struct TineFacts {
    std::vector<std::size_t> tines{};  ///< which of the fork, in order
};
struct GapFacts {
    Thing part{};  ///< of the load, that comes nearest
    bool fire = false;
    double at_m = 0;  ///< station
};
struct LimbFacts {
    /// Surfaces that free limbs strike, and those that they come too near to.
    std::vector<std::size_t> struck{}, near{};
    bool strikes_nothing = false;  ///< known to
    double tied_m = 0;             ///< how far the body reaches from the rod when tied
};
struct GibletFacts {
    double mass_kg = 0;
};
struct ForkSpan {
    double from_m = 0, to_m = 0;  ///< stations of the outermost hubs
};
struct DensityFacts {
    body::DensityRange usual;  ///< of its kind
    body::Meat meat = body::Meat::unknown;
};
struct BoneFacts {
    std::string bone{};
};
struct RollFacts {
    std::size_t test = 0;  ///< which roll test, from 0
    bool folded = true;    ///< false: it goes with nothing that is believed possible, and changes nothing
};
/// Something goes on the rod with ice in it. Value: its coldest point at the start.
struct FrozenFacts {
    double mass_kg = 0;
    double refrigerator_s = 0, cold_water_s = 0;  ///< what thawing takes either way
};
/// Places of an item, by RoastPlace::name, the worst first: that stay under what is safe (value: the worst
/// one's peak, limit: what it must reach), or that are not as hot as they are to be when time is up (value:
/// the time).
struct PlacesFacts {
    std::vector<std::string> places{};
};
/// Places that get safe only once the load is off. Value: the worst one as it comes off.
struct CarryOverFacts {
    std::vector<std::string> places{};
    double safe_k = 0;
    double after_s = 0;  ///< how long after, the slowest
};
/// The place that is too long lukewarm. Value: how long.
struct LukewarmFacts {
    std::string place{};
    double from_k = 0, to_k = 0;  ///< between which temperatures
    bool published = false;       ///< the limit is; else it is common practice
};
/// Value: what the cook means to lay.
struct FuelFacts {
    double enough_kg = 0;
    double too_hot_by_k = 0;  ///< what the cook cannot hold down; 0: nothing
};
/// Value: the area of the bed that the fire needs.
struct BedFacts {
    double fuel_kg = 0;
    double length_m = 0, width_m = 0;
};
struct Remark {
    std::string text{};  ///< one sentence or two, as whoever assumed it told it
};

using AnyFindingFacts = std::variant<std::monostate, MotorFacts, OverrunFacts, UnevenFacts, StressFacts,
                                     GripFacts, GapFacts, LimbFacts, KnockFacts, TogetherFacts, TineFacts,
                                     GibletFacts, DensityFacts, ForkSpan, BoneFacts, RollFacts, FrozenFacts,
                                     PlacesFacts, CarryOverFacts, LukewarmFacts, FuelFacts, BedFacts, Remark>;

/// One of them. How so many kinds are copied and moved is compiled once, not by all that hold a finding.
class FindingFacts : public AnyFindingFacts {
  public:
    using AnyFindingFacts::AnyFindingFacts;
    FindingFacts();
    FindingFacts(const FindingFacts& other);
    FindingFacts(FindingFacts&& other) noexcept;
    FindingFacts& operator=(const FindingFacts& other);
    FindingFacts& operator=(FindingFacts&& other) noexcept;
    ~FindingFacts();
};

/// Where to look for what a finding tells.
struct Spot {
    Vec3 at = Vec3::Zero();  ///< at turn angle 0, m
    bool turns = true;       ///< with the rod; else it stands in the world
};

/// One thing worth telling, by value: it is put into words where it is told (report/finding_words.h).
struct Finding {
    Level level = Level::ready;
    Code code = Code::assumption;
    Thing about{};  ///< what it is about
    Thing other{};  ///< the second of two things that are in one another's way
    std::optional<Spot> spot{};
    std::optional<double> value{};  ///< SI, in unit_of(code)
    std::optional<double> limit{};
    FindingFacts facts{};
    std::optional<double> chance{};  ///< share of mountings in which it is as bad as its level says
    bool as_written = true;          ///< false: not so in the load as written, only in mountings

    /// The facts of that kind. \pre the code has them
    template <typename Facts>
    [[nodiscard]] const Facts& get() const {
        return std::get<Facts>(facts);
    }
};

/// The level of a figure that is worse the greater it is.
inline Level by_limits(double value, double care, double stop) {
    return value >= stop ? Level::stop : value >= care ? Level::care : Level::ready;
}

}  // namespace evenspit
