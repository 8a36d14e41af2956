// SPDX-License-Identifier: MIT
#pragma once

namespace evenspit::body {

/// What meat weighs for its size, with its bones in, kg/m3. Lightest is fat, 924 at 4 °C; lean is about 1060
/// (Choi and Okos, Effects of temperature and composition on the thermal properties of foods, in Food
/// Engineering and Process Applications, vol. 1, 1986, with the compositions of USDA SR26), and a third of
/// bone of 1300 (from memory) makes 1140 of it. Wider by 3 % and 5 %, as a scan's volume is off by some per
/// cent.
inline constexpr double least_meat_kg_m3 = 900, greatest_meat_kg_m3 = 1200;
/// Usual: a whole turkey, by the same source.
inline constexpr double usual_meat_kg_m3 = 1050;

}  // namespace evenspit::body
