-- How Neovim starts the server. From 0.11 on Neovim reads this file itself,
-- once vim.lsp.enable names it; plugin/workeven.lua does the same for 0.10.
return {
  cmd = { 'workeven', 'lsp' },
  filetypes = { 'crochet' },
  root_markers = { '.workeven.toml', '.git' },
  settings = { workeven = vim.empty_dict() },
  -- The server is told the settings at once: hints that it gave before it asked
  -- for them would stay until the next edit.
  before_init = function(params, config)
    params.initializationOptions = config.settings.workeven
  end,
}
