// Parts of a job's page that the bench shows, too.
#pragma once

#include <string>
#include <vector>

#include "linerwright/page/page.hpp"

namespace linerwright {

// A link to a file of a folder; `shown` is HTML.
std::string html_link(const std::string& folder, const std::string& file, const std::string& shown);
// Columns that say nothing are left out.
std::string table_html(const PageTable& table);
// A figure for each board, with its pieces in the order they come free.
std::string boards_html(const std::vector<PageBoard>& boards);

}  // namespace linerwright
