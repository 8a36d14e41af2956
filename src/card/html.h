// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "card/card.h"
#include "card/drawing.h"
#include "card/model_picture.h"
#include "card/sheet.h"

namespace evenspit::card {

/// What a page shows of a load beside its words.
struct PagePictures {
    Sheet side_wide, side_narrow, dial;  ///< drawn as inline SVG; the narrow one for phones
    ModelPicture model;
    std::string still_png;  ///< of the model, for where WebGL 2 is missing and for paper; may be empty
};

/// The card as one HTML page that asks the network for nothing: boxes that keep their ticks, a timer that
/// counts to the next step where there are times, and the load to be turned round by hand.
///
/// Every text is escaped: nothing in a load file becomes markup or script.
std::string html_of(const Card& card, const PagePictures& pictures);

/// A drawing as an SVG element to stand in a page.
std::string svg_element(const Sheet& sheet, std::string_view css_class, std::string_view label);

/// A text made fit for HTML, between tags and in attributes.
std::string html_escaped(std::string_view text);

}  // namespace evenspit::card
