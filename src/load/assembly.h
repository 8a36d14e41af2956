// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "body/body.h"
#include "body/matter.h"
#include "load/roll_test.h"
#include "load/spread.h"
#include "rig/rig.h"

namespace evenspit {

/// The straight line that the rod takes through a body: (y, z) in the item frame where it crosses the planes
/// of the body's least and greatest x, m.
struct RodLine {
    Vec2 from = Vec2::Zero();
    Vec2 to = Vec2::Zero();

    bool operator==(const RodLine&) const = default;
};

/// How an item sits on the rod.
struct Seat {
    double at_m = 0;                ///< rod station of the item's origin (its foot on the rod line)
    Facing facing = Facing::point;  ///< which way the item's +x looks
    double turn_rad = 0;            ///< the item's clock
    RodLine line = {};
};

/// Item frame → rod frame for a body whose vertices reach from x_min to x_max.
///
/// The rod line becomes the X axis by the shortest turn that does it; `drive` first turns the item by half a
/// turn about its z, so that with turn 0 the item's z stays at clock 90° either way; then the item is clocked
/// about +X by `turn`.
Pose seat_pose(const Seat& seat, double x_min, double x_max);

/// A place whose temperature the cook wants to know.
struct Probe {
    std::string name;
    Vec3 at = Vec3::Zero();  ///< item frame, m
};

/// How the real thing is off from what the load file says of it; nothing, as written.
struct ItemOff {
    double mass = 1;             ///< factor: what a scale mistakes
    Vec3 centre = Vec3::Zero();  ///< of mass, item frame, m
    double strength = 1;         ///< factor on what its flesh bears
    double scale = 1;            ///< factor on a scan's lengths
    bool undone = false;         ///< a tie has come undone: its limbs are loose
};

/// One thing to be roasted, placed.
struct Item {
    std::string name;
    std::shared_ptr<const body::PreparedBody> body;  ///< not null
    Seat seat;
    Pose pose = Pose::Identity();  ///< item → rod frame
    bool trussed = true;
    bool bird = false;     ///< anatomy (vent, neck, tail) is known
    bool scanned = false;  ///< its shape is a scan's, whose lengths hang on the scan's scale
    /// What it weighs and bears at this moment of the cook; absent: as it goes on the rod.
    std::optional<body::Matter> matter{};
    /// What the cook makes of it at the worst; absent: not computed, and usual losses count.
    std::optional<body::Matter> cooked{};
    std::optional<double> bearing_strength_pa;  ///< as the load file fixes it, raw and cooked alike
    std::vector<Probe> probes;
    std::optional<double> conductivity_w_m_k;
    std::optional<double> specific_heat_j_kg_k;
    bool evaporation = true;
    ItemOff off{};
};

/// The limbs of an item that hang loose: those of a body that is not trussed, or of one whose tie has come
/// undone.
inline const std::vector<body::SwungLimb>& loose_limbs(const Item& item) {
    return item.off.undone ? item.body->body.if_undone : item.body->body.swung;
}

/// When the lid is opened to baste.
struct CookBasting {
    double every_s = 0;
    std::optional<double> from_s;  ///< after the load goes in; absent: from half way
    double open_s = 30;            ///< each time; common practice, no source
};

/// How the fire is run.
struct CookFire {
    FuelKind fuel = FuelKind::lump_charcoal;
    std::optional<double> mass_kg;  ///< as laid; absent: enough
    CoalPlace coals = CoalPlace::as_drawn;
    std::optional<double> preheat_k;  ///< before the load goes in; absent: as hot as the cook
    /// Vents stay as they were when the load went in; else the cook keeps the cooker's temperature by them.
    bool vents_left = false;
    double weather_k = 293.15;  ///< of the air outside
    std::optional<CookBasting> baste;
};

/// What the file says of the cook.
struct Cook {
    std::optional<double> cooker_temperature_k;
    std::optional<double> start_temperature_k;
    std::map<std::string, double> pull_k;
    std::optional<double> serve_s;  ///< seconds after midnight
    std::optional<double> convection_coefficient_w_m2_k;
    bool radiation = true;
    std::optional<double> duration_s;
    CookFire fire{};
    /// When the items are as Item::cooked has them, after the load goes in; absent: not computed.
    std::optional<double> cooked_after_s{};
};

/// Everything that turns and everything it must clear: the input of every analysis. Values only.
struct Assembly {
    std::string title;
    std::string file;
    Rod rod;
    Motor motor;
    Cooker cooker;
    std::vector<Item> items;
    std::vector<Fork> forks;
    std::vector<Counterweight> counterweights;
    std::vector<StockWeight> stock;
    Spread spread{};
    std::vector<RollTest> roll_tests{};  ///< one after the other, as in the load file
    std::optional<Cook> cook{};          ///< absent where the load file tells nothing of it
    std::vector<std::string> remarks;    ///< assumptions made while reading, one sentence each
};

}  // namespace evenspit
