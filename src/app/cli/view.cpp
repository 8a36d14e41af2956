// SPDX-License-Identifier: MIT
#include "app/cli/view.h"

#include <algorithm>
#include <charconv>
#include <string>
#include <system_error>
#include <tuple>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/model_folder.h"
#include "app/cli/verbs.h"
#include "app/viewer/view.h"
#include "app/viewer/window.h"
#include "units/error.h"

namespace evenspit {
namespace {

// In the order of the viewer's own lists.
const std::vector<std::string>& view_words() {
    static const std::vector<std::string> words{"home", "front", "back", "drive", "point", "above", "below"};
    return words;
}
const std::vector<std::string>& panel_words() {
    static const std::vector<std::string> words{"findings", "places", "figures", "plan",
                                                "roll",     "cook",   "charts"};
    return words;
}

template <typename E>
E by_word(const std::vector<std::string>& words, const std::string& word) {
    return static_cast<E>(std::find(words.begin(), words.end(), word) - words.begin());
}

// "1280x720"; larger than a wall of screens is a slip.
std::pair<int, int> picture_size(const std::string& text) {
    constexpr int least = 320, most = 8192;
    int width = 0, height = 0;
    const char* const end = text.data() + text.size();
    const auto [after_width, bad_width] = std::from_chars(text.data(), end, width);
    if (bad_width == std::errc() && after_width != end && *after_width == 'x') {
        const auto [after, bad] = std::from_chars(after_width + 1, end, height);
        if (bad == std::errc() && after == end && width >= least && width <= most && height >= least &&
            height <= most)
            return {width, height};
    }
    refuse_option("--size", fmt::format("'{}'", text),
                  fmt::format("width and height in pixels, {} to {}, like 1280x720", least, most));
}

double picture_scale(const std::string& text) {
    double scale = 0;
    const char* const end = text.data() + text.size();
    const auto [after, bad] = std::from_chars(text.data(), end, scale);
    if (bad == std::errc() && after == end && scale >= 0.5 && scale <= 4) return scale;
    refuse_option("--scale", fmt::format("'{}'", text), "a factor from 0.5 to 4");
}

Outcome draw(const Request& request, const PictureRequest& picture, const Surroundings& around,
             Progress& progress) try {
    const std::filesystem::path& load = request.inputs.front();
    progress.now("drawing " + load.filename().string());
    viewer::SnapshotResult drawn =
        viewer::snapshot(load, model_folder(around),
                         {.size = {picture.width, picture.height},
                          .scale = picture.scale,
                          .turn_rad = picture.angle_rad,
                          .from = by_word<viewer::StandardView>(view_words(), picture.from),
                          .tab = by_word<viewer::Tab>(panel_words(), picture.panel),
                          .inside = picture.inside,
                          .colouring = picture.heat      ? viewer::Colouring::temperature
                                       : picture.colours ? viewer::Colouring::radius
                                                         : viewer::Colouring::none,
                          .units = request.units,
                          .theme = picture.dark ? viewer::Theme::dark : viewer::Theme::light,
                          .section = picture.section,
                          .scan_unit = picture.scan_unit,
                          .after_s = picture.after_s});
    progress.done();
    Outcome outcome;
    outcome.status = drawn.verdict == Level::stop ? computed_stop : computed;
    outcome.file = std::move(drawn.png);
    outcome.told = std::move(drawn.told);
    return outcome;
} catch (const InputError& error) {
    std::vector<Complaint> told = error.complaints();
    for (Complaint& complaint : told) {
        if (complaint.key == "scan_unit" && complaint.spot.line == 0) complaint.key = "--scan-unit";
    }
    throw InputError(std::move(told));
}

Outcome open_window(const Request& request, const std::string& scan_unit, const Surroundings& around) {
    try {
        const std::optional<std::filesystem::path> load =
            request.inputs.empty() ? std::nullopt : std::optional(request.inputs.front());
        viewer::view(load, scan_unit, model_folder(around), viewer::Storage::of_home(around.variable));
    } catch (const viewer::NoDisplay& error) {
        throw UsageError(std::string(error.what()) + "; --snapshot FILE draws a picture without one");
    }
    return {};
}

Request understood_view(const Words& words) {
    Request request = common_request(words);
    const std::string load = words.text("LOAD").value_or("");
    if (!load.empty()) request.inputs = {load};
    if (!scan_unit_of(words).empty() && (load.empty() || std::filesystem::path(load).extension() == ".toml"))
        throw UsageError("--scan-unit is the unit of a scan: view SCAN.obj --scan-unit cm");
    const auto snapshot = words.text("--snapshot");
    if (!snapshot) {
        request.deed = [scan_unit = scan_unit_of(words)](const Request& asked, const Surroundings& around,
                                                         Progress&) {
            return open_window(asked, scan_unit, around);
        };
        return request;
    }
    if (load.empty())
        throw UsageError("view --snapshot needs a load file: view LOAD.toml --snapshot OUT.png");
    if (snapshot->empty()) throw UsageError("--snapshot needs the name of a file");
    request.output = *snapshot;
    request.output_option = "--snapshot";
    request.text_to_output = false;
    request.deed = [picture = picture_request(words)](const Request& asked, const Surroundings& around,
                                                      Progress& progress) {
        return draw(asked, picture, around, progress);
    };
    return request;
}

}  // namespace

PictureRequest picture_request(const Words& words) {
    PictureRequest picture;
    if (const auto size = words.text("--size")) std::tie(picture.width, picture.height) = picture_size(*size);
    if (const auto scale = words.text("--scale")) picture.scale = picture_scale(*scale);
    if (const auto angle = words.text("--angle"))
        picture.angle_rad = option_quantity("--angle", *angle, Dimension::angle, Range::any);
    if (const auto from = words.text("--from")) picture.from = one_of("--from", *from, view_words());
    if (const auto panel = words.text("--panel")) picture.panel = one_of("--panel", *panel, panel_words());
    picture.scan_unit = scan_unit_of(words);
    picture.inside = words.flag("--inside");
    picture.colours = words.flag("--colours");
    picture.heat = words.flag("--heat");
    if (picture.heat && picture.colours)
        throw UsageError("--heat and --colours both colour the body; take one");
    if (const auto after = words.text("--after")) {
        picture.after_s = option_quantity("--after", *after, Dimension::time, Range::not_negative);
    } else if (picture.heat) {
        throw UsageError("--heat needs a moment of the cook: --after \"2 h\"");
    }
    picture.section = words.flag("--section");
    picture.dark = words.flag("--dark");
    return picture;
}

Verb view_verb() {
    const auto value = [](const char* name, const char* about, const char* type,
                          std::vector<std::string> words = {}) {
        return WordSpec{WordSpec::Kind::value, name, about, type, std::move(words)};
    };
    return {.name = "view",
            .summary = "See the load turn in a window, and move things on the rod",
            .example = "view samples/harvest-turkey.toml --snapshot turkey.png",
            .words = {load_operand("The load file or a scan; without, the last or a demo"),
                      quiet_flag(),
                      file_option("--snapshot", "Draw it into a PNG; needs no display"),
                      value("--size", "Of the picture in pixels (default 1280x720)", "WxH"),
                      value("--scale", "Of letters and lines (default 1)", "FACTOR"),
                      value("--angle", "Of the turn, e.g. \"90 deg\" (default 0)", "ANGLE"),
                      value("--from", "home, front, back, drive, point, above, below", "VIEW", view_words()),
                      value("--panel", "findings, places, figures, plan, roll, cook, charts", "PANEL",
                            panel_words()),
                      {WordSpec::Kind::flag, "--inside", "Skin as glass: bones, hollow and tines"},
                      {WordSpec::Kind::flag, "--colours", "On the skin: its distance from the rod"},
                      value("--after", "As it is so long after it goes in, e.g. \"2 h\"", "TIME"),
                      {WordSpec::Kind::flag, "--heat", "With --after: the body by its temperature"},
                      {WordSpec::Kind::flag, "--section", "Cut open across the rod at the centre of mass"},
                      {WordSpec::Kind::flag, "--dark", "Dark panels and a dark sky"},
                      scan_unit_option(),
                      units_option()},
            .understand = understood_view};
}

}  // namespace evenspit
