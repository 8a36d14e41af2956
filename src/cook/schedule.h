// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "cook/cook_course.h"

namespace evenspit::cook {

/// How long a frozen thing takes to thaw, s, at the slower end. USDA FSIS, "The Big Thaw": 24 hours for every
/// 4 to 5 lb in a refrigerator at 40 °F; 30 minutes a pound in cold water that is changed every 30 minutes.
double thaw_in_refrigerator_s(double mass_kg);
double thaw_in_cold_water_s(double mass_kg);

enum class StepKind {
    thaw_in_refrigerator,
    thaw_in_cold_water,  ///< instead: what is thawed so must be cooked at once, without a marinade
    prepare,             ///< see that it is thawed, take the giblets out, dry it
    marinate,
    truss,
    spit,  ///< mount it on the rod, and check its balance by hand
    light_fire,
    preheat,  ///< an oven, or what is lit by a turn of a knob
    load_on,
    check_motor,
    baste,
    retighten,
    start_checking,  ///< with a thermometer
    take_off,        ///< some time between from_s and to_s
    rest,            ///< as long as between from_s and to_s, from when it is off
    carve,
};

struct Step {
    StepKind kind{};
    double from_s = 0, to_s = 0;
    double every_s = 0;               ///< what is done again and again: 0, once
    std::vector<Retighten> pushes{};  ///< of retighten: the forks to push in while the motor stands still
};

/// The place that is hot enough last, and where in it.
struct LastPlace {
    RoastPlace place;
    Vec3 at = Vec3::Zero();  ///< item frame
};

/// What a schedule hangs on.
struct ScheduleNeed {
    double mass_kg = 0;  ///< of the heaviest item, frozen or not
    bool bird = false;
    bool stuffed = false;
    bool frozen = false;
    bool fire = true;  ///< a fire that has to burn up: neither an oven nor gas
    /// Seconds after midnight; absent: times count from when the load goes on.
    std::optional<double> serve_s{};
    Range off_s{};  ///< when the load comes off, after it goes on
    double lit_before_s = 0;
    double rest_s = 20 * 60;  ///< USDA tells to let a bird stand 20 minutes
    std::vector<Retighten> retighten{};
    std::optional<CookBasting> baste{};  ///< absent: the usual
    std::vector<RoastPlace> watched{};   ///< the places that the load waits for
    std::optional<LastPlace> last{};
};

struct Schedule {
    bool by_clock = false;  ///< times are seconds after midnight of the day on which it is served, and may
                            ///< lie on days before; else they count from when the load goes on
    bool bird = false;
    bool stuffed = false;
    std::vector<RoastPlace> watched{};
    std::optional<LastPlace> last{};  ///< absent: not told
    double on_s = 0;
    Range ready_s{};  ///< rested, ready to be carved
    std::optional<double> serve_s{};
    std::vector<Step> steps{};  ///< by from_s
};

/// What a schedule for this cook hangs on; nothing where the cook does not get done.
std::optional<ScheduleNeed> schedule_need(const Assembly& assembly, const CookCourse& course);

/// Everything that is to be done, from the freezer to the table.
///
/// With a time to serve it is counted backwards from there with the longest that the cook may take, so that
/// it is never late; what goes on goes on at a full five minutes. Hand work takes what is common practice.
///
/// \throws std::invalid_argument unless the mass is positive and 0 < off_s.low ≤ middle ≤ high
Schedule schedule(const ScheduleNeed& need);

}  // namespace evenspit::cook
