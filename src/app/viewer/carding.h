// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>

#include "app/viewer/sought.h"
#include "units/quantity.h"

namespace evenspit::viewer {

/// What a card is made from: the load's text as it would be saved, and where it stands.
struct CardLoad {
    std::string text;
    std::filesystem::path stands_in, models;
};

/// The card that was asked for. What is found is the file it was written to.
class Carding : public Sought<std::filesystem::path> {
  public:
    using Sought::Sought;

    /// Makes the card just as the verb does from the saved load, and writes it.
    ///
    /// \pre card::card_format(file)
    void seek(CardLoad load, UnitSystem units, std::filesystem::path file, std::uint64_t revision);
};

}  // namespace evenspit::viewer
