// SPDX-License-Identifier: MIT
#include "report/heat_field.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace evenspit {
namespace {

constexpr double no_value = std::numeric_limits<double>::quiet_NaN();

// Dark brown to cream: each stop lighter than the one before.
struct Stop {
    double red, green, blue;
};
constexpr std::array ramp{Stop{46, 16, 10}, Stop{122, 38, 14}, Stop{198, 86, 22}, Stop{240, 160, 72},
                          Stop{255, 240, 205}};

// Where the side of a square of middles passes the level.
Vec2 passing(const Vec2& a, const Vec2& b, double at_a, double at_b, double level) {
    return a + (level - at_a) / (at_b - at_a) * (b - a);
}

}  // namespace

HeatField::Window HeatField::window() const {
    Window found{count, {0, 0}};
    for (std::size_t up = 0; up < count[1]; ++up) {
        for (std::size_t across = 0; across < count[0]; ++across) {
            if (!std::isfinite(at(across, up))) continue;
            found.from = {std::min(found.from[0], across), std::min(found.from[1], up)};
            found.to = {std::max(found.to[0], across + 1), std::max(found.to[1], up + 1)};
        }
    }
    if (found.to[0] == 0) found.from = {0, 0};
    return found;
}

HeatField HeatField::coarser(std::size_t by) const {
    if (by <= 1) return *this;
    HeatField field{{(count[0] + by - 1) / by, (count[1] + by - 1) / by}, {}};
    for (std::size_t up = 0; up < field.count[1]; ++up) {
        for (std::size_t across = 0; across < field.count[0]; ++across) {
            double sum = 0;
            std::size_t known = 0, all = 0;
            for (std::size_t j = up * by; j < std::min((up + 1) * by, count[1]); ++j) {
                for (std::size_t i = across * by; i < std::min((across + 1) * by, count[0]); ++i) {
                    ++all;
                    if (!std::isfinite(at(i, j))) continue;
                    sum += at(i, j);
                    ++known;
                }
            }
            field.values.push_back(2 * known >= all && known > 0 ? sum / double(known) : no_value);
        }
    }
    return field;
}

HeatBands HeatBands::over(double least, double most, double step) {
    constexpr double slack = 1e-9;  // of a step
    const double first = std::floor(least / step + slack), last = std::ceil(most / step - slack);
    return {first * step, step, static_cast<std::size_t>(std::max(1.0, last - first))};
}

std::size_t HeatBands::of(double value) const {
    const double band = std::floor((value - from) / step);
    return static_cast<std::size_t>(std::clamp(band, 0.0, double(count - 1)));
}

std::string HeatBands::colour(std::size_t band) const {
    const double share = count > 1 ? double(band) / double(count - 1) : 0.5;
    const double at = share * double(ramp.size() - 1);
    const auto lower = std::min(static_cast<std::size_t>(at), ramp.size() - 2);
    const double way = at - double(lower);
    const auto mixed = [&](double Stop::*part) {
        return static_cast<int>(std::lround((1 - way) * ramp[lower].*part + way * ramp[lower + 1].*part));
    };
    return fmt::format("#{:02x}{:02x}{:02x}", mixed(&Stop::red), mixed(&Stop::green), mixed(&Stop::blue));
}

std::string field_svg(const HeatField& field, const HeatBands& bands, const Vec2& corner,
                      const Vec2& square_px) {
    std::vector<std::string> paths(bands.count);
    for (std::size_t up = 0; up < field.count[1]; ++up) {
        for (std::size_t across = 0; across < field.count[0];) {
            const double value = field.at(across, up);
            if (!std::isfinite(value)) {
                ++across;
                continue;
            }
            const std::size_t band = bands.of(value), first = across;
            while (across < field.count[0] && std::isfinite(field.at(across, up)) &&
                   bands.of(field.at(across, up)) == band)
                ++across;
            paths[band] += fmt::format("M{} {}h{}", first, up, across - first);
        }
    }
    // A little wider than a row, so that no seam shows between two.
    std::string out = fmt::format(
        "<g transform=\"translate({:.2f} {:.2f}) scale({:.4f} {:.4f}) translate(0 0.5)\" fill=\"none\" "
        "stroke-width=\"1.08\" shape-rendering=\"crispEdges\">\n",
        corner.x(), corner.y(), square_px.x(), -square_px.y());
    for (std::size_t band = 0; band < bands.count; ++band) {
        if (!paths[band].empty())
            out += fmt::format("<path stroke=\"{}\" d=\"{}\"/>\n", bands.colour(band), paths[band]);
    }
    return out + "</g>\n";
}

std::vector<std::array<Vec2, 2>> level_line(const HeatField& field, double level) {
    std::vector<std::array<Vec2, 2>> pieces;
    for (std::size_t up = 0; up + 1 < field.count[1]; ++up) {
        for (std::size_t across = 0; across + 1 < field.count[0]; ++across) {
            const std::array<std::array<std::size_t, 2>, 4> corners{
                {{across, up}, {across + 1, up}, {across + 1, up + 1}, {across, up + 1}}};
            std::vector<Vec2> crossings;
            bool whole = true;
            for (std::size_t c = 0; c < 4; ++c) {
                const auto& [i, j] = corners[c];
                const auto& [k, l] = corners[(c + 1) % 4];
                const double here = field.at(i, j), next = field.at(k, l);
                whole = whole && std::isfinite(here);
                if ((here < level) == (next < level)) continue;
                crossings.push_back(passing(Vec2(double(i) + 0.5, double(j) + 0.5),
                                            Vec2(double(k) + 0.5, double(l) + 0.5), here, next, level));
            }
            if (!whole) continue;
            for (std::size_t c = 0; c + 1 < crossings.size(); c += 2)
                pieces.push_back({crossings[c], crossings[c + 1]});
        }
    }
    return pieces;
}

std::string level_svg(const std::vector<std::array<Vec2, 2>>& pieces, const Vec2& corner,
                      const Vec2& square_px) {
    if (pieces.empty()) return "";
    std::string path;
    for (const auto& [a, b] : pieces) {
        path += fmt::format("M{:.1f} {:.1f}L{:.1f} {:.1f}", corner.x() + a.x() * square_px.x(),
                            corner.y() - a.y() * square_px.y(), corner.x() + b.x() * square_px.x(),
                            corner.y() - b.y() * square_px.y());
    }
    return fmt::format(
        "<g fill=\"none\" stroke-linecap=\"round\"><path stroke=\"#ffffff\" stroke-width=\"2.6\" "
        "d=\"{0}\"/><path stroke=\"#10406a\" stroke-width=\"1.2\" d=\"{0}\"/></g>\n",
        path);
}

}  // namespace evenspit
