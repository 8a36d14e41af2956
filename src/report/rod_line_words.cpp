// SPDX-License-Identifier: MIT
#include "report/rod_line_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "body/opening_rim.h"
#include "plan/line_places.h"
#include "units/tell.h"

namespace evenspit {
namespace {

/// Too little to tell.
bool is_nothing(double m, UnitSystem units) {
    return length_text(std::abs(m), units) == length_text(0, units);
}

std::optional<FeltEnd> end_at(const body::OpeningRim& rim, const body::PreparedBody& body,
                              const RodLine& line) {
    const double y_at_0 = plan::crossing(body, line, 0).x();
    const auto places = rim.at(y_at_0, plan::crossing(body, line, 1).x() - y_at_0);
    if (!places) return std::nullopt;
    // The rim is no plane: each of its places stands beside another place of the rod.
    const auto& [back, breast] = *places;
    const double from_back = plan::crossing(body, line, back.x()).y() - back.z(),
                 from_breast = breast.z() - plan::crossing(body, line, breast.x()).y();
    const bool at_breast = from_breast <= from_back;
    const double x_m = at_breast ? breast.x() : back.x(), y = plan::crossing(body, line, x_m).x();
    return FeltEnd{.x_m = x_m,
                   .edge = at_breast ? FeltEnd::Edge::breast : FeltEnd::Edge::back,
                   .from_edge_m = at_breast ? from_breast : from_back,
                   .side = y < 0 ? FeltEnd::Side::left : FeltEnd::Side::right,
                   .aside_m = std::abs(y)};
}

/// Least and greatest x at which the rod meets flesh; the body's ends where it meets none.
std::array<double, 2> skin_places(const body::PreparedBody& body, const RodLine& line) {
    const double from = body.bounds.min().x(), to = body.bounds.max().x();
    const Vec3 a(from, line.from.x(), line.from.y()), b(to, line.to.x(), line.to.y());
    const double length = (b - a).norm();
    double first = length, last = 0;
    for (std::size_t p = 0; p < body.queries.size(); ++p) {
        if (!body::displaces(body.body.parts[p])) continue;
        const std::vector<Interval> inside = body.queries[p].inside(a, b);
        if (inside.empty()) continue;
        first = std::min(first, inside.front().from);
        last = std::max(last, inside.back().to);
    }
    if (first >= last) return {from, to};
    const double slope = (to - from) / length;
    return {from + slope * first, from + slope * last};
}

FeltEnd end_at(const Item& item, double x_m) {
    const Box3& box = item.body->bounds;
    const Vec2 at = plan::crossing(*item.body, item.seat.line, x_m);
    const double below_top = box.max().z() - at.y(), over_bottom = at.y() - box.min().z();
    const double to_most_y = box.max().y() - at.x(), to_least_y = at.x() - box.min().y();
    const bool top = below_top <= over_bottom;
    // Who looks along +x with z up has +y to the left.
    const bool ahead = item.seat.facing == Facing::point;
    const double from_left = ahead ? to_most_y : to_least_y, from_right = ahead ? to_least_y : to_most_y;
    const bool left = from_left <= from_right;
    return {.x_m = x_m,
            .edge = top ? FeltEnd::Edge::top : FeltEnd::Edge::bottom,
            .from_edge_m = top ? below_top : over_bottom,
            .side = left ? FeltEnd::Side::left : FeltEnd::Side::right,
            .aside_m = left ? from_left : from_right};
}

std::string_view side_name(FeltEnd::Side side) {
    return side == FeltEnd::Side::left ? "left" : "right";
}

std::string end_text(const FeltEnd& end, UnitSystem units) {
    const std::string from_edge = length_text(std::abs(end.from_edge_m), units),
                      aside = length_text(end.aside_m, units);
    switch (end.edge) {
        case FeltEnd::Edge::top:
            return fmt::format("{} below the top and {} from the {} side", from_edge, aside,
                               side_name(end.side));
        case FeltEnd::Edge::bottom:
            return fmt::format("{} above the bottom and {} from the {} side", from_edge, aside,
                               side_name(end.side));
        default:
            break;
    }
    const std::string_view edge = end.edge == FeltEnd::Edge::breast ? "breast" : "back";
    return fmt::format("{} {} the rim on the {} side and {}", from_edge,
                       end.from_edge_m < 0 ? "outside" : "from", edge,
                       is_nothing(end.aside_m, units)
                           ? "midway between left and right"
                           : fmt::format("{} to the {} of the middle", aside, side_name(end.side)));
}

/// Where no rim is known.
std::string offsets_step(const Item& item, std::string_view name, UnitSystem units) {
    const auto [vent, neck] = plan::line_places(item).x_m;
    const RodLine& line = item.seat.line;
    return fmt::format("Push the rod through {}: at the vent {}; at the neck {}.", name,
                       bird_offset_text(plan::crossing(*item.body, line, vent), units),
                       bird_offset_text(plan::crossing(*item.body, line, neck), units));
}

}  // namespace

std::optional<FeltLine> felt_line(const Item& item) {
    const body::PreparedBody& body = *item.body;
    const plan::LinePlaces places = plan::line_places(item);
    // The rod's point goes in at the end that looks to the drive.
    const bool vent_first = item.seat.facing == Facing::point;
    if (!places.openings) {
        const std::array<double, 2> x_m = skin_places(body, item.seat.line);
        return FeltLine{
            .openings = false,
            .ends = {end_at(item, x_m[vent_first ? 0 : 1]), end_at(item, x_m[vent_first ? 1 : 0])}};
    }
    const auto rims = body::opening_rims(body.body);
    if (!rims) return std::nullopt;
    const auto vent = end_at((*rims)[0], body, item.seat.line),
               neck = end_at((*rims)[1], body, item.seat.line);
    if (!vent || !neck) return std::nullopt;
    return FeltLine{.openings = true, .ends = {vent_first ? *vent : *neck, vent_first ? *neck : *vent}};
}

std::string rod_line_step(const Item& item, std::string_view name, UnitSystem units) {
    const std::optional<FeltLine> line = felt_line(item);
    if (!line) return offsets_step(item, name, units);
    const std::string in = end_text(line->ends[0], units), out = end_text(line->ends[1], units);
    if (!line->openings) {
        return fmt::format(
            "Push the rod through {}. Measure to the rod's middle, top up and seen from the drive end: {}.",
            name, in == out ? "in and out " + in : fmt::format("in {}; out {}", in, out));
    }
    const bool vent_first = item.seat.facing == Facing::point;
    const bool aside = !is_nothing(line->ends[0].aside_m, units) || !is_nothing(line->ends[1].aside_m, units);
    return fmt::format(
        "Push the rod through {}. Measure to the rod's middle: in at the {} {}; out at the {} {}.{}", name,
        vent_first ? "vent" : "neck", in, vent_first ? "neck" : "vent", out,
        aside ? " Left and right are the bird's own." : "");
}

std::string bird_offset_text(const Vec2& offset_m, UnitSystem units) {
    std::string words;
    const auto say = [&](double m, std::string_view way) {
        if (is_nothing(m, units)) return;
        words +=
            fmt::format("{}{} toward {}", words.empty() ? "" : " and ", length_text(std::abs(m), units), way);
    };
    say(offset_m.y(), offset_m.y() > 0 ? "the breast" : "the back");
    say(offset_m.x(), offset_m.x() > 0 ? "its right" : "its left");
    return words.empty() ? "through its middle" : words + " from its middle";
}

}  // namespace evenspit
