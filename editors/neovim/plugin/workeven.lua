-- Starts the server for crochet patterns and shows its hints. vim.g.workeven
-- may change what lsp/workeven.lua says, and may hold hints = false.
if vim.g.loaded_workeven then
  return
end
vim.g.loaded_workeven = true

local own = vim.g.workeven or {}
local group = vim.api.nvim_create_augroup('workeven', {})

if own.hints ~= false then
  vim.api.nvim_create_autocmd('LspAttach', {
    group = group,
    callback = function(event)
      local client = vim.lsp.get_client_by_id(event.data.client_id)
      if client and client.name == 'workeven' then
        vim.lsp.inlay_hint.enable(true, { bufnr = event.buf })
      end
    end,
  })
end
own.hints = nil

-- The configuration as lsp/workeven.lua and the user give it.
local function configuration()
  if vim.lsp.config then
    return vim.lsp.config.workeven
  end
  local file = vim.api.nvim_get_runtime_file('lsp/workeven.lua', false)[1]
  return vim.tbl_deep_extend('force', dofile(file), own)
end

vim.api.nvim_create_autocmd('FileType', {
  group = group,
  pattern = 'crochet',
  callback = function(event)
    local config = configuration()
    if vim.fn.executable(config.cmd[1]) == 0 then
      local text = 'workeven: there is no command "%s". Install it, or say where it is in vim.g.workeven.cmd.'
      vim.notify_once(text:format(config.cmd[1]), vim.log.levels.WARN)
    elseif not vim.lsp.enable then -- Neovim 0.10
      vim.lsp.start({
        name = 'workeven',
        cmd = config.cmd,
        root_dir = vim.fs.root(event.buf, config.root_markers),
        settings = config.settings,
        before_init = config.before_init,
      }, { bufnr = event.buf })
    end
  end,
})

if vim.lsp.enable then -- Neovim 0.11 and later
  vim.lsp.config('workeven', own)
  vim.lsp.enable('workeven')
end
