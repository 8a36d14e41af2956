// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "card/card.h"
#include "card/drawing.h"
#include "card/paper.h"

namespace evenspit::card {

/// The card as one HTML page (html.h) with its drawings and the load in three dimensions.
std::string card_page(const Card& card, const DrawnLoad& drawn, const Letters& letters);

}  // namespace evenspit::card
