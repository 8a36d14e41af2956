// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "load/assembly.h"
#include "load/cook_places.h"
#include "roast/fire_course.h"
#include "roast/fuel.h"
#include "roast/heat_cells.h"

namespace evenspit {

/// A place whose coldest point counts: the flesh of a region, all of an item's flesh (core), its stuffing, or
/// a probe's point. The centimetre of flesh next to the outside or to a hollow is left out, or half of
/// how deep it is where that is less: nobody puts a thermometer there.
struct RoastPlace {
    std::size_t item = 0;
    PlaceKind kind = PlaceKind::core;
    std::string name;
    /// What its coldest point must reach by the rule of its kind; absent for probes.
    std::optional<double> safe_k{};
    double safe_rest_s = 0;  ///< and how long it must rest after
    /// What it is to reach before the load comes off; absent: it is not waited for.
    std::optional<double> pull_k{};
};

/// The places of a load: of each item core, and what it has of breast, thigh, wing, stuffing and probes.
/// Items without a pull temperature of their own wait for what is safe.
///
/// Least temperatures: USDA FSIS, "Safe Minimum Internal Temperature Chart": poultry and stuffing 165 °F,
/// whole cuts of other meat 145 °F and 3 minutes of rest.
std::vector<RoastPlace> roast_places(const Assembly& assembly);

/// An item at a moment of its cook.
struct ItemMoment {
    body::Matter matter;
    double skin_k = 0;     ///< mean over its outside
    double mean_k = 0;     ///< by heat
    double coldest_k = 0;  ///< of its flesh
    double juice_kg = 0;   ///< squeezed out by then, whether it dripped or dried
    double dried_kg = 0;   ///< water that evaporated from its surface
    double fat_kg = 0;     ///< rendered
    double ice_share = 0;  ///< of its mass
};

struct RoastMoment {
    double time_s = 0;        ///< after the load goes in
    bool resting = false;     ///< off the fire
    double shown_k = 0;       ///< by the cooker's thermometer
    double fuel_left_kg = 0;  ///< 0 for gas and ovens
    double to_load_w = 0;
    std::vector<ItemMoment> items;
    std::vector<double> places_k;  ///< the coldest point of each of RoastCourse::places; in the rest one
                                   ///< that was about the coldest as the load came off
    /// By place: what its point had at its hottest so far that had the least of it.
    std::vector<double> least_peaks_k;
    /// By item; empty unless RoastOptions::keep_heat.
    std::vector<std::shared_ptr<const HeatCells>> heat{};
};

/// What a place went through.
struct PlaceCourse {
    std::optional<double> pull_s{};  ///< when it was first as hot as RoastPlace::pull_k
    std::optional<double> safe_s{};  ///< … as RoastPlace::safe_k; may be in the rest
    /// What the point that got the least heat was at its hottest, the rest included, and when.
    double peak_k = 0, peak_s = 0;
    /// On the way up, how long its coldest point was between 40 and 140 °F, and between 50 and 130 °F.
    double lukewarm_s = 0, come_up_s = 0;
    /// Decimal reductions of Salmonella that its coldest point had by the end, see salmonella_logs().
    double salmonella_logs = 0;
    /// Where its coldest point is as it comes off the fire, or the deepest of those that are about as cold;
    /// item frame. Absent for probes.
    std::optional<Vec3> coldest_at{};
};

/// Temperatures on a plane through an item at one moment, for pictures.
struct RoastCut {
    double time_s = 0;
    std::size_t item = 0;
    bool lengthwise = true;  ///< the plane y = 0 of the item frame; else x = `at_m`
    double at_m = 0;
    std::array<double, 2> from{};  ///< corner of the first cell: (x, z), or (y, z); item frame, m
    double spacing_m = 0;
    std::array<std::size_t, 2> count{};
    std::vector<float> temperature_k;  ///< by the first axis, then z; NaN outside the body
};

/// Heat that an item's skin took up till the load came off, drying counted in; by triangle of its first part.
struct SkinHeat {
    std::vector<double> j_m2;
};

struct RoastOptions {
    double spacing_m = 0.002;
    double interval_s = 300;       ///< between moments
    double longest_s = 16 * 3600;  ///< a cook that takes longer is given up
    double rest_s = 1200;          ///< after it; USDA tells to let a bird stand 20 minutes
    std::vector<double> cuts_s{};  ///< moments to keep cuts of
    bool cut_when_off = false;     ///< and as the load comes off
    bool keep_heat = false;        ///< keep RoastMoment::heat
    ViewOptions views{};
    /// What `views` would find, cast before for the same load; absent: cast now. Its settings are not used.
    std::shared_ptr<const FireCourse> cast{};
    bool fuel = true;  ///< whether RoastCourse::fuel is asked for
    /// Factors on what is not well known, for sensitivities.
    double conductivity = 1, heat_capacity = 1, convection = 1;
    double held_by_k = 0;  ///< the cooker is so much hotter than it is said to be
    double open_pace = 1;  ///< FireSettings::open_pace
};

/// How much of a turn's time a load spends at each of `angles` steps of it, as an analysis of its balance
/// tells; items have their Item::matter set.
using TimeShares = std::function<std::vector<double>(const Assembly& now, std::size_t angles)>;

/// Told now and then: seconds of the cook computed so far, and of how many, as far as that can be told.
using RoastProgress = std::function<void(double done_s, double of_s)>;

/// A cook computed.
struct RoastCourse {
    double spacing_m = 0;
    std::vector<RoastPlace> places;
    std::vector<PlaceCourse> place_courses;  ///< one for each
    std::vector<RoastMoment> moments;        ///< from time 0 to the end of the rest, in order
    /// When the load came off: after Cook::duration_s, or when all that is waited for was reached. Absent: it
    /// was not within RoastOptions::longest_s.
    std::optional<double> off_s{};
    std::optional<FuelPlan> fuel{};   ///< absent for ovens, and if not asked for
    std::vector<SkinHeat> skin_heat;  ///< by item
    std::vector<RoastCut> cuts;
    double imbalance = 0;  ///< greatest of all items' energy balances, as a share
    std::size_t cells = 0;
};

/// How a cook is computed where an answer is wanted at once.
RoastOptions coarse_roast();

/// The last moment on the fire. \pre some moments
const RoastMoment& off_moment(const RoastCourse& course);

/// Whether enough is told of a load's cook to compute it.
bool can_roast(const Assembly& assembly);

/// Cooks a load.
///
/// \param shares empty: an even turn
/// \throws Stopped once asked to \throws std::invalid_argument if !can_roast()
RoastCourse roast_course(const Assembly& assembly, const RoastOptions& options = {},
                         const TimeShares& shares = {}, const RoastProgress& progress = {},
                         const std::stop_token& stop = {});

/// The load as it is at a moment: each item's Item::matter set.
Assembly load_at(const Assembly& assembly, const RoastMoment& moment);

}  // namespace evenspit
