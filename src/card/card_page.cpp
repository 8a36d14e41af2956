// SPDX-License-Identifier: MIT
#include "card/card_page.h"

#include "card/html.h"

namespace evenspit::card {

std::string card_page(const Card& card, const DrawnLoad& drawn, const Letters& letters) {
    const MeasureText measure = letters.measure();
    // In CSS pixels: a phone is some 390 of them wide, margins included, a page on a screen up to 1160.
    const DrawingRoom wide{measure, 1100, 330, 15}, narrow{measure, 366, 300, 12},
        face{measure, 300, 300, 14};
    PagePictures pictures{.side_wide = side_drawing(drawn, wide),
                          .side_narrow = side_drawing(drawn, narrow),
                          .dial = dial_drawing(drawn, face),
                          .model = model_picture(drawn.load, drawn.analysis),
                          .still_png = ""};
    constexpr int still_width = 800, still_height = 400;
    if (pictures.model.corners > 0)
        pictures.still_png = png_of(still_of(pictures.model, still_width, still_height));
    return html_of(card, pictures);
}

}  // namespace evenspit::card
