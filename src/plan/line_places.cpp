// SPDX-License-Identifier: MIT
#include "plan/line_places.h"

#include "body/joined_parts.h"

namespace evenspit::plan {

LinePlaces line_places(const Item& item) {
    const body::PreparedBody& body = *item.body;
    const Box3 hollow = body::open_cavity_bounds(body.body);
    if (body.body.pointed_ends_known && !hollow.isEmpty() && hollow.min().x() < hollow.max().x())
        return {.x_m = {hollow.min().x(), hollow.max().x()}, .openings = true};
    return {.x_m = {body.bounds.min().x(), body.bounds.max().x()}, .middle = body.bounds.center().tail<2>()};
}

Vec2 crossing(const body::PreparedBody& body, const RodLine& line, double x_m) {
    const double from = body.bounds.min().x(), to = body.bounds.max().x();
    return line.from + (line.to - line.from) * ((x_m - from) / (to - from));
}

RodLine line_through(const body::PreparedBody& body, const std::array<double, 2>& x_m, const Vec2& first,
                     const Vec2& second) {
    const Vec2 slope = (second - first) / (x_m[1] - x_m[0]);
    return {.from = first + slope * (body.bounds.min().x() - x_m[0]),
            .to = first + slope * (body.bounds.max().x() - x_m[0])};
}

}  // namespace evenspit::plan
