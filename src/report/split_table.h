// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "report/page.h"

namespace evenspit {

/// One column of a table that may be parted, from head to foot.
struct SplitColumn {
    Column head;
    std::vector<std::string> cells;
};

/// Puts a table on a page, in as many parts below one another as there is room for; the first column leads
/// each. \pre columns of one length
void put_split_table(Page& page, const std::vector<SplitColumn>& columns);

}  // namespace evenspit
