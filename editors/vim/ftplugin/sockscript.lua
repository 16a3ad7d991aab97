-- In Neovim a pattern is checked while it is typed, if the program is found.
local program = vim.fn.expand(vim.g.sockscript_program or 'sockscript')
if vim.g.sockscript_check_as_you_type == 0 or vim.fn.executable(program) == 0 then
  return
end

local service = _G.sockscript_service or {}
_G.sockscript_service = service
local buffer = vim.api.nvim_get_current_buf()
local space = vim.api.nvim_create_namespace('sockscript')

local function ask(method, parameters, answered)
  vim.lsp.buf_request(buffer, method, parameters, function(_, found, context)
    if context.client_id == service.client and answered then
      answered(found)
    end
  end)
end

local function command(name, words, answered)
  ask('workspace/executeCommand', { command = name, arguments = words }, answered)
end

-- Stitch counts, carriage side and row counter at the ends of the lines.
local function counts()
  if vim.g.sockscript_counts == 0 or not vim.api.nvim_buf_is_loaded(buffer) then
    return
  end
  local last = vim.api.nvim_buf_line_count(buffer)
  ask('textDocument/inlayHint', {
    textDocument = { uri = vim.uri_from_bufnr(buffer) },
    range = { start = { line = 0, character = 0 }, ['end'] = { line = last, character = 0 } },
  }, function(hints)
    vim.api.nvim_buf_clear_namespace(buffer, space, 0, -1)
    for _, hint in ipairs(hints or {}) do
      pcall(vim.api.nvim_buf_set_extmark, buffer, space, hint.position.line, 0,
        { virt_text = { { '  ' .. hint.label, 'Comment' } }, virt_text_pos = 'eol' })
    end
  end)
end

local function ended(code)
  service.client = nil
  if code ~= 0 then
    vim.schedule(function()
      vim.notify('Sockscript does not check while you type: its language server is missing or '
        .. 'ended. Install it as the README of Sockscript says.', vim.log.levels.WARN)
    end)
  end
end

local settings = {
  name = 'sockscript',
  cmd = { program, 'language-server' },
  root_dir = vim.fn.expand('%:p:h'),
  on_exit = ended,
  handlers = { ['workspace/inlayHint/refresh'] = function()
    vim.api.nvim_exec_autocmds('User', { pattern = 'SockscriptCounts' })
    return vim.NIL
  end },
}
-- One service for all patterns.
if vim.lsp.start then
  service.client = vim.lsp.start(settings, {
    bufnr = buffer, reuse_client = function(client) return client.name == settings.name end })
else -- before Neovim 0.8
  service.client = service.client or vim.lsp.start_client(settings)
  if service.client then
    vim.lsp.buf_attach_client(buffer, service.client)
  end
end
if not service.client then
  return
end

local group = vim.api.nvim_create_augroup('sockscript' .. buffer, {})
vim.api.nvim_create_autocmd('DiagnosticChanged', { group = group, buffer = buffer, callback = counts })
vim.api.nvim_create_autocmd('User',
  { group = group, pattern = 'SockscriptCounts', callback = counts })

local function define(name, action, options)
  vim.api.nvim_buf_create_user_command(buffer, 'Sockscript' .. name, action, options or {})
end

local function here()
  return vim.uri_from_bufnr(buffer)
end

define('Mend', function() vim.lsp.buf.code_action() end)
define('Rename', function() vim.lsp.buf.rename() end)
define('Explain', function() vim.lsp.buf.hover() end)
define('Outline', function() vim.lsp.buf.document_symbol() end)
define('Format', function()
  if vim.lsp.buf.format then
    vim.lsp.buf.format({ bufnr = buffer, id = service.client })
  else
    vim.lsp.buf.formatting_sync()
  end
end)
define('Size', function()
  command('sockscript.server.sizes', { here() }, function(found)
    vim.ui.select(found.sizes, { prompt = 'The size whose counts are shown' }, function(size)
      if size then
        command('sockscript.server.chooseSize', { size })
      end
    end)
  end)
end)
define('Needles', function()
  local line = vim.api.nvim_win_get_cursor(0)[1] - 1
  command('sockscript.server.needles', { here(), line }, function(found)
    local words = type(found) == 'table' and found.title .. '\n\n' .. found.text
      or 'Nothing has been knitted up to this line, or the pattern has slips to mend first.'
    vim.lsp.util.open_floating_preview(vim.split(words, '\n'), '')
  end)
end)
