// SPDX-License-Identifier: MIT
#pragma once

#include "card/card.h"
#include "card/drawing.h"
#include "card/sheet.h"

namespace evenspit::card {

/// A page, pt.
struct Paper {
    double width_pt = 0, height_pt = 0;
};
inline constexpr Paper a4{595.276, 841.890};  ///< ISO 216: 210 mm × 297 mm
inline constexpr Paper letter{612, 792};      ///< ANSI/ASME Y14.1: 8.5 in × 11 in

/// The card on one page, its letters as large as there is room for.
///
/// Letters of 11 pt can be read at arm's length by most, 9 pt by many: 16 and 13 minutes of arc of a
/// capital's height at 65 cm (ISO 9241-303 asks for 16 at least, recommends 20 to 22). Where that is not
/// enough for all, what is done long before is left out, then letters get smaller; what still finds no room
/// is counted in a last line that names the command that tells it.
Sheet lay_out(const Card& card, const DrawnLoad& drawn, const Paper& paper, const MeasureText& measure);

}  // namespace evenspit::card
