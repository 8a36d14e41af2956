// SPDX-License-Identifier: MIT
#pragma once

#include <ostream>
#include <string_view>

namespace evenspit {

/// One line on a terminal that tells what is being done and is gone when it is done. On anything else than a
/// terminal it is silent.
class Progress {
  public:
    Progress(std::ostream& err, bool shown) : err_(err), shown_(shown) {}
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    ~Progress() { done(); }

    /// Puts `what` in place of what stood there.
    void now(std::string_view what);

    /// Wipes the line; nothing else may be printed on the terminal before.
    void done();

  private:
    std::ostream& err_;
    bool shown_;
    bool on_screen_ = false;
};

}  // namespace evenspit
