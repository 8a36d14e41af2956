// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "geometry/types.h"
#include "units/quantity.h"

namespace evenspit {

enum class Verb { check, plan, compare, fit, shape, scan, models, view };
enum class Format { text, json, csv };

/// What `shape` is to make: texts for the keys of an [[item]], as a load file has them.
struct ShapeWords {
    std::map<std::string, std::string> texts{};  ///< "shape", "mass", "tape.length" …
    std::vector<std::string> missing{};
};

/// A picture of the viewer, wanted without a display. Names are those of the command line.
struct PictureRequest {
    std::filesystem::path file;
    int width = 1280, height = 720;  ///< pixels
    double scale = 1;                ///< pixels per point
    double angle_rad = 0;            ///< of the turn
    std::string from = "home";       ///< home, front, back, drive, point, above, below
    std::string panel = "findings";  ///< findings, places, figures, plan
    bool inside = false;             ///< skin as glass
};

/// What is told of raw scans beside their files.
struct ScanRequest {
    std::vector<std::filesystem::path> raw{};
    std::optional<double> metres_per_unit{};
    std::optional<double> mass_kg{};
    std::optional<Vec3> axis{}, up{};  ///< in the (first) file's axes, not null
    bool keep_frame = false;           ///< of the (first) file
};

/// What the user asks for.
struct Request {
    Verb verb = Verb::check;
    std::filesystem::path load;                  ///< empty for verbs that take none; of compare the first
    std::vector<std::filesystem::path> loads{};  ///< of compare
    Format format = Format::text;
    UnitSystem units = UnitSystem::metric;
    bool quiet = false;
    /// Absent: standard output. Of plan the load file to write, of shape the mesh, of scan the body.
    std::optional<std::filesystem::path> output;
    std::optional<std::size_t> pick{};      ///< of plan: the answer to write, absent: the recommended one
    std::optional<std::string> sweep{};     ///< of compare: "fork.1.at=150mm:250mm:10mm"
    ShapeWords shape{};                     ///< of shape
    ScanRequest scan{};                     ///< of scan
    std::optional<PictureRequest> picture;  ///< of `view`; absent: a window
};

/// A text that is all there is to do: the help or the version.
struct Answer {
    std::string text;
};

/// The command line cannot be understood; what() is one sentence, without the program's name.
class UsageError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Understands the words behind the program's name.
///
/// \throws UsageError for no verb, an unknown verb or option (the nearest known one is told), an option that
/// lacks its value or has
///         a wrong one, a missing or a surplus file, options that exclude each other
std::variant<Request, Answer> parse_command_line(const std::vector<std::string>& arguments);

/// The help for the program as a whole.
std::string help_text();

}  // namespace evenspit
