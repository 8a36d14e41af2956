// SPDX-License-Identifier: MIT
#include "roast/view_formulas.h"

#include <cmath>
#include <numbers>

namespace evenspit {

using std::numbers::pi;

double view_to_parallel_rectangle(double x, double y) {
    const double to_x = std::hypot(1, x), to_y = std::hypot(1, y);
    return (x / to_x * std::atan(y / to_x) + y / to_y * std::atan(x / to_y)) / (2 * pi);
}

double view_to_upright_rectangle(double x, double y) {
    const double to_y = std::hypot(1, y);
    return (std::atan(x) - std::atan(x / to_y) / to_y) / (2 * pi);
}

double view_to_disc(double radius, double tilt_rad) {
    return std::cos(tilt_rad) * radius * radius / (1 + radius * radius);
}

double view_to_plane(double tilt_rad) {
    return (1 + std::cos(tilt_rad)) / 2;
}

double view_between_rectangles(double x, double y) {
    const double to_x = std::hypot(1, x), to_y = std::hypot(1, y);
    const double logarithm = std::log(to_x * to_x * to_y * to_y / (1 + x * x + y * y)) / 2;
    return 2 / (pi * x * y) *
           (logarithm + x * to_y * std::atan(x / to_y) + y * to_x * std::atan(y / to_x) - x * std::atan(x) -
            y * std::atan(y));
}

double view_between_discs(double first, double second) {
    const double s = 1 + (1 + second * second) / (first * first);
    const double ratio = second / first;
    return (s - std::sqrt(s * s - 4 * ratio * ratio)) / 2;
}

double view_from_sphere_to_rectangle(double x, double y) {
    return std::atan(x * y / std::sqrt(1 + x * x + y * y)) / (4 * pi);
}

double view_from_cylinder_to_strip(double from, double to) {
    return (std::atan(to) - std::atan(from)) / (2 * pi);
}

}  // namespace evenspit
