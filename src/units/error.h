// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace evenspit {

/// A place in a text file. Line and column count from 1; 0 means that only the file is known.
struct SourceSpot {
    std::string file;
    int line = 0;
    int column = 0;
};

/// One thing that is wrong with what was given, told so that it can be mended.
///
/// Empty members are left out of the printed line.
struct Complaint {
    SourceSpot spot;
    std::string key;       ///< path of the key, e.g. "item[1].mass"
    std::string found;     ///< what stands there
    std::string expected;  ///< what would have been right
    std::string mend;      ///< what to write or do

    /// "goose.toml:12:8: item[1].mass: found …; expected …; …", without a line break at the end.
    [[nodiscard]] std::string text() const;
};

/// Bad input: the caller's data cannot be used. The command line answers it with exit status 2.
///
/// Carries every complaint that was found in one pass, in file order; what() holds one line for each.
class InputError : public std::runtime_error {
  public:
    explicit InputError(std::vector<Complaint> complaints);
    explicit InputError(Complaint complaint);

    [[nodiscard]] const std::vector<Complaint>& complaints() const { return complaints_; }

  private:
    std::vector<Complaint> complaints_;
};

}  // namespace evenspit
