// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "app/viewer/labels.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// The words over the scene, gathered and then drawn where they have room, each on a plate of its own and
/// with a line to its place.
class LabelSheet {
  public:
    LabelSheet(Ui& ui, ImDrawList& list, const Area& scene) : ui_(ui), list_(list), scene_(scene) {}

    /// \param off from the place to where the word's middle would best be, pixels
    /// \param rank the least get the better room
    /// \param needed left out only where it would lie over another word
    void add(ImVec2 place, ImVec2 off, std::string text, Ink ink, int rank, bool needed = true);
    /// No word is to lie there.
    void keep_free(const Area& area) { taken_.push_back(area); }
    /// \param faint all in faint letters: what they tell is not up to date
    void draw(bool faint);

  private:
    struct Worded {
        LabelWish wish;
        std::string text;
        Ink ink;
        int rank;
    };
    Ui& ui_;
    ImDrawList& list_;
    const Area& scene_;
    std::vector<Worded> labels_;
    std::vector<Area> taken_;
};

}  // namespace evenspit::viewer
