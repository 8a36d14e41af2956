// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "geometry/types.h"
#include "scan/scan_settings.h"

namespace evenspit::viewer {

/// The load file of the first screen.
std::string_view demo_load();

/// A body that lies in a file of its own, for a new load.
struct ScanForLoad {
    std::filesystem::path file;
    std::string unit{};               ///< for `scan_unit`, "" where the format tells or it is metres
    std::optional<double> mass_kg{};  ///< on the scale; absent: not weighed yet
    bool own_frame = false;           ///< its axes are an item's already; else they are found
    double from_m = 0, to_m = 0;  ///< its first and last station at 340 mm, for the forks; equal: no forks
};

/// The ending of a name in lower case: ".toml"; "" if it has none.
std::string ending_of(const std::filesystem::path& file);

/// A load file for a scan on its own: a usual rod, motor and cooker, the scan in the middle, a fork at each
/// end.
std::string load_for_scan(const ScanForLoad& scan);

/// What is told of a scan whose file does not tell it.
struct ScanTold {
    std::string unit;                 ///< as `scan_unit` takes it
    std::optional<double> mass_kg{};  ///< on the scale
    scan::RestsOn rests_on = scan::RestsOn::automatic;
    std::optional<scan::BesideThing> beside{};  ///< stood beside it
};

/// What there is to ask about a scan: how large it is in a unit that nobody knows.
struct ScanQuestion {
    std::filesystem::path file;
    Vec3 size = Vec3::Zero();  ///< of its box, in the file's own unit
    std::string likely{};      ///< the unit in which it is about as long as a roast
    bool rough = false;        ///< not closed: what it rests on has to go
};

/// The unit that a scan's size allows alone, or metres if it may be metres.
struct TakenUnit {
    std::string unit;   ///< as `scan_unit` takes it
    std::string words;  ///< that it was taken, for the reader
};
/// \throws InputError where its size allows several; see scan::decide_unit()
TakenUnit unit_by_size(const ScanQuestion& question);

/// What a raw scan became.
struct CleanedScan {
    std::filesystem::path body;  ///< a closed mesh beside the scan, metres, item frame
    std::string words;           ///< what was done, for the cook
};

/// Makes a closed body of a rough scan and writes it into a folder, under a name that was free.
///
/// \param folder that the body goes to; empty: the scan's own
/// \param told its unit and weight; without it the unit is guessed where the file does not tell it
/// \param stage told what is being done, as it begins; may throw to stop the work
/// \throws InputError if the scan cannot be used, or its folder takes no files
CleanedScan clean_scan(const std::filesystem::path& scan, const std::function<void(std::string_view)>& stage,
                       const std::optional<ScanTold>& told = {}, const std::filesystem::path& folder = {});

}  // namespace evenspit::viewer
