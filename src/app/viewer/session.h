// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/analysis.h"
#include "app/viewer/edit.h"

namespace evenspit::viewer {

/// An earlier state kept to compare with.
struct Pinned {
    Arrangement places;
    Analysis analysis;
};

/// One load in hand: what its file says, how things sit now, and every step between. Pure values; knows no
/// window and no clock.
class Session {
  public:
    /// \param read what read_load_text() made of `text`
    /// \param file where it stands; empty for a load that was never saved
    Session(Assembly read, std::string text, std::filesystem::path file);

    /// The load as it sits now.
    [[nodiscard]] const Assembly& assembly() const { return assembly_; }
    [[nodiscard]] const std::filesystem::path& file() const { return file_; }
    /// Counts up with every change of the load; answers carry the number they belong to.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }
    /// Lets revisions count on from those of a load that was in hand before.
    void start_counting_after(std::uint64_t revision) { revision_ = revision + 1; }

    /// Does an edit, or says why it may not be; then nothing has changed.
    ///
    /// \param gesture edits with the same name, one after the other, are one step for undo; "" is always a
    /// step
    ///        of its own
    std::optional<Refusal> edit(const Edit& edit, std::string_view gesture = {});
    /// The next edit begins a new step, whatever its gesture.
    void end_gesture() { gesture_.clear(); }

    /// What undo and redo would do, "" for nothing.
    [[nodiscard]] std::string undo_name() const;
    [[nodiscard]] std::string redo_name() const;
    void undo();
    void redo();

    /// Whether things sit otherwise than in the file, or roll tests were put down.
    [[nodiscard]] bool unsaved() const;
    /// The load file's text with everything where it sits now; comments and order as they were.
    [[nodiscard]] std::string text() const;
    /// Text and file agree from now on.
    void saved(std::string text, std::filesystem::path file);
    /// Takes what was kept from an earlier run, as one step; false if they do not fit this load.
    bool recover(const Sitting& sitting);

    void pin(Analysis analysis) { pinned_ = Pinned{arrangement_of(assembly_), std::move(analysis)}; }
    void unpin() { pinned_.reset(); }
    [[nodiscard]] const std::optional<Pinned>& pinned() const { return pinned_; }

  private:
    struct Step {
        std::string name;
        Sitting before;
        Sitting after;
    };
    void show(const Sitting& sitting);
    /// Makes a step the latest; what was undone before it can be done again no more.
    void record(std::string name, Sitting before, const Sitting& after);

    Assembly base_;  // as the text says
    std::string text_;
    std::filesystem::path file_;
    Assembly assembly_;
    std::vector<Step> steps_;
    std::size_t done_ = 0;  // steps that are in force; those behind can be done again
    std::string gesture_;
    std::optional<Pinned> pinned_;
    std::uint64_t revision_ = 1;
};

}  // namespace evenspit::viewer
